"""How the figures of each lawn of a route came about: its ground, its spray, its products."""

from collections.abc import Iterator

from planner.core.day.ground import RouteStop
from planner.core.day.whole import Day
from planner.core.ground.ground import Ground
from planner.core.shown import Shown
from planner.core.tools import Tool
from planner.core.workings.areas import PARTS_SOURCE, TOOLS_SOURCE
from planner.core.workings.day_terms import TOLD_SOURCE, Named, amount_of, worked
from planner.core.workings.output import FINISHED_SPRAY_SOURCE
from properties.core.units import Quantity
from properties.core.working import Figure

SHARE_SOURCE = "Our own derivation: each lawn gets its share of what is in the tank."


def stop_figures(stop: RouteStop, day: Day) -> Iterator[Figure]:
    """Derive the figures of one lawn.

    Parameters
    ----------
    stop : RouteStop
        The lawn. [m²]
    day : Day
        The route of the tool that sprays it. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    shown, name = day.shown, stop.asked.name
    yield _area(stop, shown)
    yield from _ground_area(stop, shown)
    yield worked(
        "spray",
        f"{name}: finished spray",
        f"area × output / {shown.per_area}",
        (
            ("area", shown.area_of(stop.area_m2)),
            ("output", shown.output_of(day.output.l_per_m2)),
        ),
        shown.spray_of(stop.area_m2 * day.output.l_per_m2),
        FINISHED_SPRAY_SOURCE,
    )
    yield from _products(stop, day)


def _products(stop: RouteStop, day: Day) -> Iterator[Figure]:
    """Derive how much of each product a lawn gets from its load."""
    shown, load = day.shown, day.load_of(stop)
    tank = ("tank", shown.spray_of(0.0 if load is None else load.tank_l))
    for position, (each, amount) in enumerate(day.amounts_on(stop)):
        yield worked(
            f"products[{position}].amount",
            f"{stop.asked.name}: {each.product.name}",
            f"product × area × output / {shown.per_area} / tank",
            (
                ("product", amount_of(each.product, each.in_tank, shown)),
                ("area", shown.area_of(stop.area_m2)),
                ("output", shown.output_of(day.output.l_per_m2)),
                tank,
            ),
            amount_of(each.product, amount, shown),
            SHARE_SOURCE,
        )


def _ground_area(stop: RouteStop, shown: Shown) -> Iterator[Figure]:
    """Derive the lawn itself, where its slopes take more or less than level ground."""
    for name, besides in _on_slopes(stop, shown):
        parts = Quantity(stop.asked.parts, "")
        ground_m2 = 0.0 if stop.part is None else stop.part.area_m2
        yield worked(
            "ground_area",
            f"{stop.asked.name}: the ground itself, with its slopes",
            f"level ground − {name} / parts",
            (("level ground", shown.area_of(stop.area_m2)), (name, besides), ("parts", parts)),
            shown.area_of(ground_m2 / stop.asked.parts),
            PARTS_SOURCE,
        )


def _on_slopes(stop: RouteStop, shown: Shown) -> tuple[Named, ...]:
    """What level ground would take as much spray as slopes take more than their own area."""
    part = stop.part
    if part is None or not part.slopes_differ:
        return ()
    return (("more on slopes", shown.area_of(part.level_m2 - part.area_m2)),)


def _area(stop: RouteStop, shown: Shown) -> Figure:
    """Derive the ground of a stop: of the whole lawn, or of one of its equal parts."""
    parts = stop.asked.parts
    shared: tuple[Named, ...] = (("parts", Quantity(parts, "")),) if parts > 1 else ()
    if stop.ground is None:
        title, formula, terms, source = _told(stop, shown)
    elif stop.is_by_hand:
        title, formula, terms, source = _by_hand(stop, stop.ground, shown)
    else:
        title, formula, terms, source = _drawn(stop, stop.ground, shown)
    if shared:
        formula = f"({formula}) / parts" if len(terms) > 1 else f"{formula} / parts"
    area = shown.area_of(stop.area_m2)
    return worked("area", f"{stop.asked.name}: {title}", formula, (*terms, *shared), area, source)


_Sum = tuple[str, str, tuple[Named, ...], str]


def _told(stop: RouteStop, shown: Shown) -> _Sum:
    parts = stop.asked.parts
    whole = shown.area_of((stop.area_m2 + stop.by_other_m2) * parts)
    other = ("by hand", shown.area_of(stop.by_other_m2 * parts))
    if stop.is_by_hand:
        own = ("as told", shown.area_of(stop.area_m2 * parts))
        return "ground of the hand tool", "as told", (own,), TOLD_SOURCE
    if stop.by_other_m2:
        terms = (("as told", whole), other)
        return "treatable area of the machine", "as told − by hand", terms, TOLD_SOURCE
    return "treatable area", "as told", (("as told", whole),), TOLD_SOURCE


def _by_hand(stop: RouteStop, ground: Ground, shown: Shown) -> _Sum:
    pieces = tuple(
        (f"piece {number}", shown.area_of(area_m2))
        for number, area_m2 in enumerate(ground.hand_pieces_m2, start=1)
    )
    formula = " + ".join(name for name, _ in pieces) or "0"
    return "ground of the hand tool", formula, pieces, TOOLS_SOURCE


def _drawn(stop: RouteStop, ground: Ground, shown: Shown) -> _Sum:
    treatment = ground.treatment
    taken = {
        "obstacles": treatment.obstacle_area_m2,
        "no-spray": treatment.no_spray_area_m2,
    }
    if ground.closed_area_m2:
        taken["closed"] = ground.closed_area_m2
    if any(each.tool is Tool.HAND_TOOL for each in ground.tools):
        taken["by hand"] = ground.hand_area_m2
    more = _on_slopes(stop, shown)
    formula = " − ".join(("turf", *taken)) + (" + more on slopes" if more else "")
    terms = (
        ("turf", shown.area_of(treatment.turf_area_m2)),
        *((name, shown.area_of(area_m2)) for name, area_m2 in taken.items()),
        *more,
    )
    by = " by the machine" if "by hand" in taken else ""
    return f"turf that may be sprayed{by}", formula, terms, PARTS_SOURCE
