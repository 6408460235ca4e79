"""Reading what the tanks of a machine hold, how far they are filled, what stays in them."""

from functools import partial

from planner.core.request.reader import Believable, Members, quantity_at
from properties.core.errors import Refused
from properties.core.units import Dimension, Quantity

KNOWN = ("tanks", "fill_limit", "unsprayable")

MOST_TANKS = 10

TANKS = Believable(Quantity(0.1, "L"), Quantity(100_000, "L"))
REMAINDERS = Believable(Quantity(0, "L"), Quantity(100_000, "L"))
_SAME_VOLUME = 1 + 1e-9

Volumes = tuple[Quantity, ...]


def read_tanks(machine: Members) -> tuple[Volumes, Volumes, Volumes]:
    """Read what each tank holds, how far it is filled, and what cannot be sprayed from it.

    Parameters
    ----------
    machine : Members
        The members of the machine. [-]

    Returns
    -------
    tuple of three tuples
        What the tanks hold; their fill limits and what cannot be sprayed, empty where
        nobody told. [as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    machine.want("tanks", 'List what each tank holds, for example ["25 gal"].')
    tanks = _volumes(machine, "tanks", TANKS)
    limits = _of_each(machine, "fill_limit", TANKS, count=len(tanks))
    kept_back = _of_each(machine, "unsprayable", REMAINDERS, count=len(tanks))
    for position, tank in enumerate(tanks):
        limit = limits[position] if limits else None
        left = kept_back[position] if kept_back else None
        check = partial(check_tank, tank, fill_limit=limit, unsprayable=left)
        machine.faults.trying(check, below=machine.path)
    return tanks, limits, kept_back


def check_tank(
    capacity: Quantity, *, fill_limit: Quantity | None, unsprayable: Quantity | None
) -> None:
    """Refuse a tank that is filled over its brim, or from which nothing could be sprayed.

    Parameters
    ----------
    capacity : Quantity
        What the tank holds. [volume]
    fill_limit : Quantity or None
        How far it is filled, None for to the brim. [volume]
    unsprayable : Quantity or None
        What stays in it and its hoses, None where nobody knows. [volume]

    Returns
    -------
    None
        Nothing, where the tank can be. [-]

    Raises
    ------
    Refused
        At ``fill_limit`` or at ``unsprayable``.

    References
    ----------
    Our own derivation: sprayable = fill limit − unsprayable, above zero.
    """
    filled = capacity if fill_limit is None else fill_limit
    if filled.si > capacity.si * _SAME_VOLUME:
        raise Refused(
            "fill_limit",
            f"A tank of {capacity} cannot be filled to {filled}.",
            "Write how far it is filled, at most what it holds.",
        )
    if unsprayable is not None and unsprayable.si * _SAME_VOLUME >= filled.si:
        raise Refused(
            "unsprayable",
            f"With {unsprayable} that cannot be sprayed, nothing of {filled} is left to spray.",
            "Write what stays in the sump, the pump and the hose when it sucks air.",
        )


def _volumes(machine: Members, name: str, believable: Believable) -> Volumes:
    read = [
        quantity_at(machine.faults, path, item, Dimension.VOLUME, believable=believable)
        for path, item in machine.items(name, most=MOST_TANKS)
    ]
    return tuple(volume for volume in read if volume is not None)


def _of_each(machine: Members, name: str, believable: Believable, *, count: int) -> Volumes:
    """Read one volume that holds for every tank, or a list with one for each."""
    if not isinstance(machine.values.get(name), list):
        volume = machine.quantity(name, Dimension.VOLUME, believable=believable)
        return () if volume is None else (volume,) * count
    volumes = _volumes(machine, name, believable)
    if volumes and len(volumes) != count:
        machine.faults.add(
            machine.path_of(name),
            "This list is not as long as the list of tanks.",
            "Give one volume for each tank, or a single one that holds for all.",
        )
        return ()
    return volumes
