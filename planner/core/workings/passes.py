"""How the figures of a machine's passes came about."""

from collections.abc import Iterator

import shapely

from planner.core.amounts.parts import Part
from planner.core.amounts.passes import Drive
from planner.core.machine.machines import Driving
from planner.core.shown import TIME_UNIT, Shown, in_unit
from planner.core.workings.slopes import speed_figure
from planner.core.workings.terms import below
from properties.core.passes import Passes
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure, Input

HEADING_SOURCE = (
    "Our own derivation: of the headings along which most of the outline runs, the one with the "
    "least to drive, a turn counted as two swaths more. Clockwise from north."
)
AREA_SOURCE = (
    "Our own derivation: the strip under each pass is laid over the machine’s ground; all strips "
    "are what is covered, what is sprayed again and what falls outside. Areas of the map."
)
LENGTH_SOURCE = (
    "Our own derivation: rounds along the edge, passes, and straight ways from the end of each to "
    "the next. Lengths of the map."
)
SIDES_SOURCE = (
    "Our own derivation: on each lane a side is open where it sprays ground that no pass before "
    "it has sprayed, and shut to the inch elsewhere. Round the edge all sides stay open."
)
SLOPE_WAY_SOURCE = (
    "Our own derivation: rounds and lanes laid over the turf of that slope. Lengths of the map; "
    "ways between count as level."
)
TIME_SOURCE = "Common practice: way over speed, and the time lost in turns. Speed as stated."


def pass_figures(part: Part, *, shown: Shown) -> Iterator[Figure]:
    """Derive the figures of the passes of a tool, where it is driven in passes.

    Parameters
    ----------
    part : Part
        The part. [-]
    shown : Shown
        The units to show. [-]

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
    passes = None if part.drive is None else part.drive.passes
    if part.drive is not None and passes is not None:
        figures = (
            *_way(passes, shown),
            *_areas(passes, shown),
            *_sides_shut(part.drive, shown),
            *_slope_ways(part.drive, shown),
            *_time(part.drive, part.sprayer.driving, shown),
        )
        yield from below("passes", figures)


def _way(passes: Passes, shown: Shown) -> Iterator[Figure]:
    heading = Input("heading of the edges", Quantity(passes.heading_deg, "deg"))
    name = "Heading of the passes"
    if passes.lanes:
        yield Figure("heading", name, heading.name, (heading,), heading.quantity, HEADING_SOURCE)
    rounds_m = float(shapely.length(passes.headlands).sum())
    lanes_m = float(shapely.length(passes.lanes).sum())
    inputs = tuple(
        Input(name, quantity_of_si(length_m, shown.length))
        for name, length_m in {
            "rounds": rounds_m,
            "lanes": lanes_m,
            "ways between": passes.driven_m - rounds_m - lanes_m,
        }.items()
    )
    yield Figure(
        "driven_length",
        "Way that the machine drives",
        "rounds + lanes + ways between",
        inputs,
        quantity_of_si(passes.driven_m, shown.length),
        LENGTH_SOURCE,
    )


def _areas(passes: Passes, shown: Shown) -> Iterator[Figure]:
    ground = Input("ground", shown.area_of(passes.area_m2))
    covered = Input("covered", shown.area_of(passes.covered_area_m2))
    outside = Input("outside", shown.area_of(passes.outside_m2))
    strips = Input("all strips", shown.area_of(passes.swept_m2))
    double = Input("sprayed twice", shown.area_of(passes.double_m2))
    missed = Input("missed", shown.area_of(passes.missed_m2))
    figures = (
        ("ground_area", "Machine’s ground on the map", ground.name, (ground,), ground),
        (
            "double_sprayed_area",
            "Spray on ground that is sprayed already",
            "all strips − outside − covered",
            (strips, outside, covered),
            double,
        ),
        (
            "missed_area",
            "Machine’s ground under no pass",
            "ground − covered",
            (ground, covered),
            missed,
        ),
        (
            "outside_area",
            "Spray beside the machine’s ground",
            "all strips − covered − sprayed twice",
            (strips, covered, double),
            outside,
        ),
    )
    for key, name, formula, inputs, result in figures:
        yield Figure(key, name, formula, inputs, result.quantity, AREA_SOURCE)
    shares = (
        ("double_sprayed", double, passes.double_share),
        ("missed", missed, passes.missed_share),
    )
    for key, part, share in shares:
        yield Figure(
            f"{key}_share",
            f"Share of the machine’s ground: {part.name}",
            f"100 × {part.name} / ground",
            (part, ground),
            Quantity(100 * share, "%"),
            AREA_SOURCE,
        )


def _sides_shut(drive: Drive, shown: Shown) -> Iterator[Figure]:
    shut = drive.shut
    if shut is None:
        return
    areas = {
        "ground": shut.ground_m2,
        "covered": shut.covered_m2,
        "outside": shut.outside_m2,
        "sprayed twice": shut.double_m2,
        "all strips": shut.swept_m2,
    }
    named = {name: Input(name, shown.area_of(area_m2)) for name, area_m2 in areas.items()}
    share = Quantity(100 * shut.double_share, "%")
    figures = (
        ("double_sprayed_area", "all strips − outside − covered", named["sprayed twice"].quantity),
        ("double_sprayed_share", "100 × sprayed twice / ground", share),
        ("outside_area", "all strips − covered − sprayed twice", named["outside"].quantity),
    )
    for key, formula, result in figures:
        inputs = tuple(given for name, given in named.items() if name in formula)
        what = "outside the ground" if key == "outside_area" else "on ground sprayed already"
        yield Figure(
            f"sides_shut.{key}",
            f"Spray {what}, with each side shut where it sprays nothing new",
            formula,
            inputs,
            result,
            SIDES_SOURCE,
        )


def _slope_ways(drive: Drive, shown: Shown) -> Iterator[Figure]:
    for number, way in enumerate(drive.on_slopes if drive.work_s is not None else ()):
        length = Input("on the slope", quantity_of_si(way.way_m, shown.length))
        yield Figure(
            f"on_slopes[{number}].length",
            "Way of rounds and lanes that lies on a slope",
            length.name,
            (length,),
            length.quantity,
            SLOPE_WAY_SOURCE,
        )
        yield from below(f"on_slopes[{number}]", [speed_figure(way.there, "that slope")])


def _time(drive: Drive, driving: Driving, shown: Shown) -> Iterator[Figure]:
    passes = drive.passes
    if passes is None or drive.work_s is None or driving.speed is None:
        return
    way = Input("way", quantity_of_si(passes.driven_m, shown.length))
    inputs, terms = [way, Input("speed", in_unit(driving.speed, shown.speed))], ["way / speed"]
    if drive.on_slopes:
        lengths = []
        for number, each in enumerate(drive.on_slopes, start=1):
            length = Input(f"on slope {number}", quantity_of_si(each.way_m, shown.length))
            there = Input(f"speed {number}", quantity_of_si(each.there.m_per_s, shown.speed))
            inputs += [length, there]
            lengths.append(length.name)
            terms.append(f"{length.name} / {there.name}")
        terms[0] = f"(way − {' − '.join(lengths)}) / speed"
    if driving.turn_time is not None:
        turns = Input("turns", Quantity(passes.turns, ""))
        inputs += [turns, Input("each turn", in_unit(driving.turn_time, "s"))]
        terms.append("turns × each turn")
    yield Figure(
        "work_time",
        "Time on the machine’s ground",
        f"({' + '.join(terms)}) / 60",
        tuple(inputs),
        quantity_of_si(drive.work_s, TIME_UNIT),
        TIME_SOURCE,
    )
