"""Reading distances by kind of protected feature: plain ones, and those of a label."""

from collections.abc import Callable
from functools import partial
from typing import TypeVar

from planner.core.label.labels import LabelSetback
from planner.core.label.methods import Method
from planner.core.request.reader import Believable, Members, open_object, quantity_at
from properties.core.errors import Refused
from properties.core.features import KINDS, Role, kind_named
from properties.core.units import Dimension, Quantity

KNOWN_OF_LABEL_SETBACK = ("distance", "downwind", *Method)

DISTANCES = Believable(Quantity(0, "m"), Quantity(5, "km"))

Read = TypeVar("Read")


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
    return _by_kind(members, name, partial(_distance, members))


def read_label_distances(members: Members, name: str) -> dict[str, LabelSetback]:
    """Read what a label asks for from each kind of protected feature that it names.

    Parameters
    ----------
    members : Members
        The label. [-]
    name : str
        The member's name. [-]

    Returns
    -------
    dict[str, LabelSetback]
        The distances by the kind's own word. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return _by_kind(members, name, partial(_label_setback, members))


def protected_kind(word: object, path: str) -> str:
    """Look up a kind of protected feature.

    Parameters
    ----------
    word : object
        The word as it was written. [-]
    path : str
        Where it stands. [-]

    Returns
    -------
    str
        The kind's own word. [-]

    Raises
    ------
    Refused
        If no protected feature goes by that word; the refusal names them all.

    References
    ----------
    Our own list.
    """
    protected = [kind.token for kind in KINDS.values() if kind.role is Role.PROTECTED]
    remedy = f"Use one of: {', '.join(protected)}."
    try:
        token = kind_named(word, field=path).token
    except Refused as refused:
        raise Refused(path, refused.problem, remedy) from None
    if token not in protected:
        raise Refused(path, f"{token} is not a protected feature.", remedy)
    return token


def _by_kind(
    members: Members, name: str, read: Callable[[str, object], Read | None]
) -> dict[str, Read]:
    inner = members.within(name, None)
    if inner is None:
        return {}
    found: dict[str, Read] = {}
    for word, value in inner.values.items():
        path, faults = inner.path_of(word), members.faults
        token = faults.trying(partial(protected_kind, word, path))
        asked = read(path, value)
        if token is None or asked is None:
            continue
        if token in found:
            faults.add(path, f"A distance for {token} is given twice.", "Keep one of them.")
        found[token] = asked
    return found


def _distance(members: Members, path: str, value: object) -> Quantity | None:
    return quantity_at(members.faults, path, value, Dimension.LENGTH, believable=DISTANCES)


def _label_setback(members: Members, path: str, value: object) -> LabelSetback | None:
    inner = None
    if isinstance(value, dict):
        inner = open_object(members.faults, path, value, KNOWN_OF_LABEL_SETBACK)
    if inner is None:
        distance = _distance(members, path, value)
        return None if distance is None else LabelSetback(distance)
    if not inner.values:
        remedy = f"Give at least one of: {', '.join(KNOWN_OF_LABEL_SETBACK)}."
        members.faults.add(path, "No distance is given here.", remedy)
    read = {
        word: inner.quantity(word, Dimension.LENGTH, believable=DISTANCES)
        for word in KNOWN_OF_LABEL_SETBACK
    }
    by_method = {method: distance for method in Method if (distance := read[method]) is not None}
    return LabelSetback(read["distance"], by_method, read["downwind"])
