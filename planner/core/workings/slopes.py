"""How what comes down on each slope came about, and the level ground that takes as much."""

from collections.abc import Iterator, Sequence

from planner.core.amounts.parts import Part
from planner.core.amounts.slope_output import SlopeGround
from planner.core.checks.slopes import on_slope
from planner.core.machine.slope_speeds import SpeedThere
from planner.core.mix.products import Product
from planner.core.shown import Shown, in_unit
from planner.core.spots import Spots
from planner.core.workings.areas import PARTS_SOURCE
from planner.core.workings.terms import below
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure, Input

DRAWN_SOURCE = "As drawn; nothing was worked out."
SPEED_SOURCE = (
    "As measured with the calibration; between two measured slopes on the straight line from one "
    "to the other. The calibration is taken to be of level ground."
)
TIMES_SOURCE = (
    "NC State Extension, The Calibration of Turfgrass Boom Sprayers and Spreaders: at a fixed "
    "pressure output goes as one over the speed."
)
FOLLOWS_SOURCE = "The pump follows the speed, so the output is that of level ground."
SPOTS_SOURCE = "As it was told; a share is the area of the spots over the treatable area."
LEVEL_SOURCE = "Our own derivation: spray = calibrated output × ∑ area × times."


def level_ground(parts: Sequence[Part], *, shown: Shown) -> Input:
    """Name the ground that the amounts of some parts follow.

    Parameters
    ----------
    parts : Sequence[Part]
        The parts. [m²]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Input
        The treatable area, or the level ground that takes as much spray where something
        else comes down on a slope. [unit shown]

    Raises
    ------
    Nothing
        Every part has ground.

    References
    ----------
    See ``level_area_m2``.
    """
    name = "level ground" if any(part.slopes_differ for part in parts) else "treatable area"
    if any(part.spot_share != 1 for part in parts):
        name = "ground of the spots"
    return Input(name, shown.area_of(sum(part.level_m2 for part in parts)))


def level_area_figure(parts: Sequence[Part], *, shown: Shown) -> Iterator[Figure]:
    """Derive the level ground that takes as much spray as the ground with its slopes.

    Parameters
    ----------
    parts : Sequence[Part]
        The parts. [m²]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Iterator[Figure]
        The derivation; none where it is the ground itself. [unit shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    if not any(part.is_other_area for part in parts):
        return
    others = [each for part in parts for each in part.slopes if each.is_other]
    inputs = [Input("treatable area", shown.area_of(sum(part.area_m2 for part in parts)))]
    formula = "treatable area"
    for number, each in enumerate(others, start=1):
        area = Input(f"slope {number}", shown.area_of(each.area_m2))
        times = Input(f"times {number}", Quantity(each.counted, ""))
        inputs += [area, times]
        formula += f" + {area.name} × ({times.name} − 1)"
    # Spots are told for one tool only.
    if parts[0].spot_share != 1:
        share = Input("share in spots", Quantity(100 * parts[0].spot_share, "%"))
        inputs.append(share)
        formula = f"({formula}) × {share.name} / 100"
    yield Figure(
        "level_area",
        "Level ground that takes as much spray as this ground with its slopes or spots",
        formula,
        tuple(inputs),
        shown.area_of(sum(part.level_m2 for part in parts)),
        LEVEL_SOURCE,
    )


def spots_figures(part: Part, spots: Spots | None, *, shown: Shown) -> Iterator[Figure]:
    """Derive which share of the ground is spots.

    Parameters
    ----------
    part : Part
        The part of the one tool. [m²]
    spots : Spots or None
        What was told of the spots. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Iterator[Figure]
        The derivation; none where all of the ground is treated. [%]

    Raises
    ------
    Nothing
        Every share has a derivation.

    References
    ----------
    By definition.
    """
    if spots is None or part.spot_share == 1:
        return
    told, formula = Input("share as told", Quantity(100 * part.spot_share, "%")), "share as told"
    inputs: tuple[Input, ...] = (told,)
    if spots.area is not None:
        area = Input("all spots", shown.area_of(spots.area.si))
        inputs = (area, Input("treatable area", shown.area_of(part.area_m2)))
        formula = "100 × all spots / treatable area"
    share = quantity_of_si(part.spot_share, "%")
    yield Figure(
        "spots.share", "Share of the ground in spots", formula, inputs, share, SPOTS_SOURCE
    )


def slope_figures(part: Part, products: Sequence[Product], *, shown: Shown) -> Iterator[Figure]:
    """Derive what comes down on each slope of a part.

    Parameters
    ----------
    part : Part
        The part. [-]
    products : Sequence[Product]
        The mix. [-]
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
    for number, slope in enumerate(part.slopes):
        yield from below(f"slopes[{number}]", _slope(part, slope, products, shown))


def _slope(
    part: Part, slope: SlopeGround, products: Sequence[Product], shown: Shown
) -> Iterator[Figure]:
    area = Input("ground", shown.area_of(slope.area_m2))
    where, drawn = on_slope(slope), Input("as drawn", slope.slope)
    yield Figure("slope", f"Slope: {where}", drawn.name, (drawn,), slope.slope, DRAWN_SOURCE)
    yield Figure("area", f"Ground: {where}", area.name, (area,), area.quantity, PARTS_SOURCE)
    if slope.speed is not None:
        yield speed_figure(slope.speed, where)
    if slope.times is None:
        return
    yield _times(slope, where)
    times = Input("times", Quantity(slope.times, ""))
    output = Input("output", shown.output_of(part.output.l_per_m2))
    yield Figure(
        "output",
        f"Finished spray on {where}",
        "output × times",
        (output, times),
        shown.output_of(part.output.l_per_m2 * slope.times),
        TIMES_SOURCE,
    )
    for position, product in enumerate(products):
        rate = Input("rate", shown.rate_of(product.rate, product.rate.si))
        there = product.rate.si * (slope.times if product.by_area else 1.0)
        yield Figure(
            f"products[{position}].rate",
            f"{product.name} on {where}",
            "rate × times" if product.by_area else "rate",
            (rate, times) if product.by_area else (rate,),
            shown.rate_of(product.rate, there),
            TIMES_SOURCE,
        )


def speed_figure(there: SpeedThere, where: str) -> Figure:
    """Derive the speed on a slope.

    Parameters
    ----------
    there : SpeedThere
        The speed. [m/s]
    where : str
        What the slope is called. [-]

    Returns
    -------
    Figure
        The derivation. [unit as told]

    Raises
    ------
    Nothing
        Every speed has a derivation.

    References
    ----------
    It names its own.
    """
    unit = there.steeper.speed.unit
    inputs = (
        Input("gentler speed", in_unit(there.gentler.speed, unit)),
        Input("steeper speed", in_unit(there.steeper.speed, unit)),
        Input("slope", Quantity(100 * there.rise, "%")),
        Input("gentler slope", Quantity(100 * there.gentler.rise, "%")),
        Input("steeper slope", Quantity(100 * there.steeper.rise, "%")),
    )
    return Figure(
        "speed",
        f"Speed on {where}",
        "gentler speed + (steeper speed − gentler speed) × (slope − gentler slope) / "
        "(steeper slope − gentler slope)",
        inputs,
        quantity_of_si(there.m_per_s, unit),
        SPEED_SOURCE,
    )


def _times(slope: SlopeGround, where: str) -> Figure:
    name = f"How many times the output of level ground comes down on {where}"
    there = slope.speed
    result = Quantity(slope.counted, "")
    if not slope.is_other or there is None:
        return Figure("times", name, "1", (), result, FOLLOWS_SOURCE)
    unit = there.steeper.speed.unit
    inputs = (
        Input("calibrated speed", in_unit(there.level, unit)),
        Input("speed there", quantity_of_si(there.m_per_s, unit)),
    )
    return Figure("times", name, "calibrated speed / speed there", inputs, result, TIMES_SOURCE)
