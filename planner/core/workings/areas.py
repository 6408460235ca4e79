"""How the areas of a plan came about."""

import math
from collections.abc import Iterator, Sequence

from planner.core.ground.ground import Ground, called
from planner.core.shown import Shown
from planner.core.workings.terms import explained, summed
from properties.core.features import Role
from properties.core.outlines import Shape
from properties.core.units import Quantity
from properties.core.working import Figure, Input

FRAME_SOURCE = (
    "Outline in a plane with true areas round the property (Lambert azimuthal equal-area, "
    "Snyder 1987, USGS Professional Paper 1395, pages 187 to 190), centre {lon:.6f}, {lat:.6f}; "
    "turf is enlarged by its slope, sqrt(1 + slope²)."
)
PARTS_SOURCE = (
    "Our own derivation: turf = treatable + obstacle + no-spray + closed on the day, each counted "
    "once."
)
ZONE_SOURCE = (
    "Our own derivation: ground within the distance of a feature, never less; ground that several "
    "features share is counted for the first one drawn."
)
SWATH_SOURCE = (
    "Our own derivation: ground that a disk as wide as the swath cannot reach when it is rolled "
    "over the treatable area, corners of the machine’s ground excepted."
)

TOOLS_SOURCE = (
    "Our own derivation: ground open to the hand tool that the machine does not spray, because it "
    "keeps farther away, may not go there, or does not fit."
)

#: A difference smaller than this share of an area is the rounding of the machine.
ROUNDING_SHARE = 1e-9


def area_figures(ground: Ground, *, shown: Shown) -> Iterator[Figure]:
    """Derive the areas of a plan.

    Parameters
    ----------
    ground : Ground
        The areas. [m²]
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
    yield from _shapes(ground, shown)
    yield _turf(ground, shown)
    yield _obstacles(ground, shown)
    yield _no_spray(ground, shown)
    yield _treatable(ground, shown)
    yield _hand(ground, shown)
    yield _machine(ground, shown)


def _frame_source(ground: Ground) -> str:
    frame = ground.treatment.frame
    return FRAME_SOURCE.format(lon=frame.lon0, lat=frame.lat0)


def _shapes(ground: Ground, shown: Shown) -> Iterator[Figure]:
    treatment = ground.treatment
    for number, shape in enumerate(ground.drawing.shapes):
        area_m2 = treatment.shape_areas_m2[shape.ref]
        factor = treatment.slope_factors.get(shape.ref, 1.0)
        inputs = (
            Input("area on the map", shown.area_of(area_m2 / factor)),
            Input("slope factor", Quantity(factor, "")),
        )
        yield Figure(
            f"areas_by_shape[{number}].area",
            f"Ground inside the outline of {called(shape)}",
            "area on the map × slope factor",
            inputs,
            shown.area_of(area_m2),
            _frame_source(ground),
        )


def _turf(ground: Ground, shown: Shown) -> Figure:
    treatment = ground.treatment
    turf = ground.drawing.of_role(Role.TURF)
    areas_m2 = [treatment.shape_areas_m2[shape.ref] for shape in turf]
    inputs, formula = _counted_once("turf", areas_m2, treatment.turf_area_m2, shown)
    return Figure(
        "turf_area",
        explained("Turf on the ground", _told("turf", turf)),
        formula,
        inputs,
        shown.area_of(treatment.turf_area_m2),
        _frame_source(ground),
    )


def _obstacles(ground: Ground, shown: Shown) -> Figure:
    total_m2 = ground.treatment.obstacle_area_m2
    obstacles = ground.drawing.of_role(Role.OBSTACLE)
    inputs, formula = _counted_once("obstacle", ground.under_obstacles_m2, total_m2, shown)
    return Figure(
        "obstacle_area",
        explained("Turf under obstacles", _told("obstacle", obstacles)),
        formula,
        inputs,
        shown.area_of(total_m2),
        PARTS_SOURCE,
    )


def _counted_once(
    short: str, areas_m2: Sequence[float], total_m2: float, shown: Shown
) -> tuple[tuple[Input, ...], str]:
    """Add up areas that may overlap: the inputs, and the formula in their names."""
    terms = _terms(short, areas_m2, shown)
    twice_m2 = math.fsum(areas_m2) - total_m2
    if abs(twice_m2) <= ROUNDING_SHARE * total_m2:
        return terms, summed(terms)
    twice = Input("counted twice", shown.area_of(twice_m2))
    return (*terms, twice), f"{summed(terms)} − {twice.name}"


def _no_spray(ground: Ground, shown: Shown) -> Figure:
    features = [kept.shape for kept in ground.kept_from]
    by_ref = {left.ref: left.area_m2 for left in ground.treatment.left_out}
    terms = _terms("feature", [by_ref[shape.ref] for shape in features], shown)
    other = {
        "too narrow for any tool": ground.too_narrow_m2,
        "not for this mix": ground.spared_m2,
        "closed to the tools": ground.barred_m2,
    }
    terms += tuple(
        Input(name, shown.area_of(area_m2)) for name, area_m2 in other.items() if area_m2
    )
    return Figure(
        "no_spray_area",
        explained("Turf that is kept unsprayed", _told("feature", features)),
        summed(terms),
        terms,
        shown.area_of(ground.treatment.no_spray_area_m2),
        ZONE_SOURCE,
    )


def _treatable(ground: Ground, shown: Shown) -> Figure:
    treatment = ground.treatment
    taken = {"obstacles": treatment.obstacle_area_m2, "no-spray": treatment.no_spray_area_m2}
    if ground.closed_area_m2:
        taken["closed"] = ground.closed_area_m2
    return Figure(
        "treatable_area",
        "Turf that may be sprayed",
        " − ".join(("turf", *taken)),
        (
            Input("turf", shown.area_of(treatment.turf_area_m2)),
            *(Input(name, shown.area_of(area_m2)) for name, area_m2 in taken.items()),
        ),
        shown.area_of(treatment.treatable_area_m2),
        PARTS_SOURCE,
    )


def _hand(ground: Ground, shown: Shown) -> Figure:
    alone = len(ground.tools) == 1
    pieces = tuple(
        Input(f"{'strip' if alone else 'piece'} {number}", shown.area_of(area_m2))
        for number, area_m2 in enumerate(ground.hand_pieces_m2, start=1)
    )
    return Figure(
        "hand_area",
        "Strips that are too narrow for the swath" if alone else "Ground of the hand tool",
        summed(pieces),
        pieces,
        shown.area_of(ground.hand_area_m2),
        SWATH_SOURCE if alone else TOOLS_SOURCE,
    )


def _machine(ground: Ground, shown: Shown) -> Figure:
    return Figure(
        "machine_area",
        "Ground where the swath fits",
        "treatable − hand",
        (
            Input("treatable", shown.area_of(ground.treatment.treatable_area_m2)),
            Input("hand", shown.area_of(ground.hand_area_m2)),
        ),
        shown.area_of(ground.machine_area_m2),
        PARTS_SOURCE,
    )


def _terms(short: str, areas_m2: Sequence[float], shown: Shown) -> tuple[Input, ...]:
    return tuple(
        Input(f"{short} {number}", shown.area_of(area_m2))
        for number, area_m2 in enumerate(areas_m2, start=1)
    )


def _told(short: str, shapes: Sequence[Shape]) -> list[tuple[str, str]]:
    return [
        (f"{short} {number}", shape.name or shape.ref)
        for number, shape in enumerate(shapes, start=1)
    ]
