"""How what the ground has had, and what it may still get, came about."""

from collections.abc import Iterator

from planner.core.amounts.limit_account import FaceAccount, limit_account
from planner.core.amounts.planned import Planned
from planner.core.limits import Ceiling, Standing
from planner.core.limits.after import After
from planner.core.shown import Shown, day_said
from planner.core.workings.areas import PARTS_SOURCE
from planner.core.workings.terms import explained, summed
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure, Input

RECEIVED_SOURCE = (
    "Our own derivation: past applications laid over the ground, added up where they lie."
)
ROOM_SOURCE = "The label: what it allows in the year less what has been put down in it."


def limit_figures(planned: Planned, *, shown: Shown) -> Iterator[Figure]:
    """Derive the faces of the ground, and where each stands against every limit.

    Parameters
    ----------
    planned : Planned
        The figures. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations. [units shown]

    Raises
    ------
    Nothing
        What nobody knows has none.

    References
    ----------
    Each derivation names its own.
    """
    account = limit_account(planned)
    yield _closed(account, planned, shown)
    for number, told in enumerate(account):
        ground = Input("ground", shown.area_of(told.area_m2))
        name = "Ground that has had the same, measured in the plane and enlarged by its slope"
        yield Figure(
            f"faces[{number}].area", name, ground.name, (ground,), ground.quantity, PARTS_SOURCE
        )
    for position, ceiling in enumerate(planned.ground.faces.ceilings):
        for number, told in enumerate(account):
            key = f"limits[{position}].faces[{number}]"
            standing, after = told.against(position)
            yield from _standing(key, ceiling, standing, shown)
            if after is not None and told.rates is not None:
                yield _added(key, ceiling, told.rates, shown)
                yield from _after(key, ceiling, standing, after, shown)


def _closed(account: tuple[FaceAccount, ...], planned: Planned, shown: Shown) -> Figure:
    pieces = tuple(
        Input(f"face {number}", shown.area_of(told.area_m2))
        for number, told in enumerate(account, start=1)
        if not told.face.is_open
    )
    return Figure(
        "closed_area",
        "Turf that is closed on the day",
        summed(pieces),
        pieces,
        shown.area_of(planned.ground.closed_area_m2),
        PARTS_SOURCE,
    )


def _standing(key: str, ceiling: Ceiling, standing: Standing, shown: Shown) -> Iterator[Figure]:
    if standing.received is None:
        return
    unit = ceiling.unit(shown)
    had = [(each, ceiling.amount_in(each)) for each in standing.counted]
    terms = tuple(
        Input(f"application {number}", quantity_of_si(amount, unit))
        for number, (_, amount) in enumerate(had, start=1)
        if amount is not None
    )
    told = [
        (term.name, f"{each.product} on {day_said(each.applied_on)}")
        for term, (each, _) in zip(terms, had, strict=True)
    ]
    title = explained(f"{ceiling.what} put down here {ceiling.limits.year.words}", told)
    received = quantity_of_si(standing.received, unit)
    yield Figure(f"{key}.received", title, summed(terms), terms, received, RECEIVED_SOURCE)
    yield from _room(f"{key}.room", ceiling, received, standing.room, unit)


def _room(
    key: str, ceiling: Ceiling, received: Quantity, room: float | None, unit: str
) -> Iterator[Figure]:
    limit = ceiling.limits.per_year
    if limit is None or room is None:
        return
    yield Figure(
        key,
        f"{ceiling.what} that the ground may still get {ceiling.limits.year.words}",
        "max(0, allowed − received)",
        (Input("allowed", quantity_of_si(limit.si, unit)), Input("received", received)),
        quantity_of_si(room, unit),
        ROOM_SOURCE,
    )


def _added(key: str, ceiling: Ceiling, rates: dict[str, float], shown: Shown) -> Figure:
    unit = ceiling.unit(shown)
    terms = tuple(
        Input(f"product {number}", quantity_of_si(share * rates[name], unit))
        for number, (name, share) in enumerate(ceiling.shares.items(), start=1)
    )
    told = [(term.name, name) for term, name in zip(terms, ceiling.shares, strict=True)]
    return Figure(
        f"{key}.added",
        explained(f"{ceiling.what} that this job brings, by its strongest load", told),
        summed(terms),
        terms,
        quantity_of_si(ceiling.amount_from(rates), unit),
        RECEIVED_SOURCE,
    )


def _after(
    key: str, ceiling: Ceiling, before: Standing, after: After, shown: Shown
) -> Iterator[Figure]:
    if after.received is None or before.received is None:
        return
    unit = ceiling.unit(shown)
    received = quantity_of_si(after.received, unit)
    yield Figure(
        f"{key}.received_after",
        f"{ceiling.what} that the ground will have had {ceiling.limits.year.words}",
        "received + added",
        (
            Input("received", quantity_of_si(before.received, unit)),
            Input("added", quantity_of_si(after.added, unit)),
        ),
        received,
        RECEIVED_SOURCE,
    )
    yield from _room(f"{key}.room_after", ceiling, received, after.room, unit)
