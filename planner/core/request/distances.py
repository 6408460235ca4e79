"""Reading distances by kind of protected feature."""

from functools import partial

from planner.core.request.reader import Believable, Members, quantity_at
from properties.core.errors import Refused
from properties.core.features import KINDS, Role, kind_named
from properties.core.units import Dimension, Quantity

DISTANCES = Believable(Quantity(0, "m"), Quantity(5, "km"))


def read_distances(members: Members, name: str) -> dict[str, Quantity]:
    """Read a distance for each kind of protected feature that is named.

    Parameters
    ----------
    members : Members
        The object that holds them. [-]
    name : str
        The member's name. [-]

    Returns
    -------
    dict[str, Quantity]
        The distances by the kind's own word. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    inner = members.within(name, None)
    if inner is None:
        return {}
    distances: dict[str, Quantity] = {}
    for word, value in inner.values.items():
        path, faults = inner.path_of(word), members.faults
        token = faults.trying(partial(_protected, word, path))
        distance = quantity_at(faults, path, value, Dimension.LENGTH, believable=DISTANCES)
        if token is None or distance is None:
            continue
        if token in distances:
            faults.add(path, f"A distance for {token} is given twice.", "Keep one of them.")
        distances[token] = distance
    return distances


def _protected(word: str, path: str) -> str:
    protected = [kind.token for kind in KINDS.values() if kind.role is Role.PROTECTED]
    remedy = f"Use one of: {', '.join(protected)}."
    try:
        token = kind_named(word, field=path).token
    except Refused as refused:
        raise Refused(path, refused.problem, remedy) from None
    if token not in protected:
        raise Refused(path, f"{token} is not a protected feature.", remedy)
    return token
