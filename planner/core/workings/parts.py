"""How the figures of the whole job, and of each tool's part, came about."""

from collections.abc import Iterator, Sequence

from planner.core.amounts.parts import Part
from planner.core.amounts.planned import Planned
from planner.core.request import RateMeets
from planner.core.shown import Shown
from planner.core.workings.areas import PARTS_SOURCE
from planner.core.workings.catch_tests import catch_test_figures, first_pass_figures
from planner.core.workings.distances import distance_figures
from planner.core.workings.feeding import feeding_figures
from planner.core.workings.loads import SLOPE_SOURCE, load_figures
from planner.core.workings.output import FINISHED_SPRAY_SOURCE, carrier_figure, output_figures
from planner.core.workings.passes import pass_figures
from planner.core.workings.products import product_figures
from planner.core.workings.slopes import (
    level_area_figure,
    level_ground,
    slope_figures,
    spots_figures,
)
from planner.core.workings.spread import spread_figures
from planner.core.workings.stays import stays_figures
from planner.core.workings.terms import Extents, below, summed
from properties.core.units import Quantity
from properties.core.working import Figure, Input


def extents_of(parts: Sequence[Part], *, rate_meets: RateMeets, shown: Shown) -> Extents:
    """Say what the amounts of one part, or of all, follow.

    Parameters
    ----------
    parts : Sequence[Part]
        The parts. [-]
    rate_meets : RateMeets
        Which area the rates meet. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Extents
        The area, the spray and the loads. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    on_map = " on the map" if rate_meets is RateMeets.PLAN else ""
    ground = level_ground(parts, shown=shown).name
    return Extents(
        Input(f"{ground}{on_map}", shown.area_of(sum(part.rated_m2 for part in parts))),
        Input("finished spray", shown.spray_of(sum(part.carrier_l for part in parts))),
        tuple(load.fill.number for part in parts for load in part.loads),
    )


def whole_figures(planned: Planned) -> Iterator[Figure]:
    """Derive the output of the machine, and spray, products and loads of the whole job.

    Parameters
    ----------
    planned : Planned
        The figures. [-]

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
    parts, shown, meets = planned.parts, planned.shown, planned.request.rate_meets
    extents = extents_of(parts, rate_meets=meets, shown=shown)
    yield from spots_figures(parts[0], planned.request.spots, shown=shown)
    yield from level_area_figure(parts, shown=shown)
    if meets is RateMeets.PLAN:
        yield _rate_area(parts, shown)
    yield from feeding_figures(parts[0], planned.request.nutrient_rules, shown=shown)
    if planned.spread is not None:
        yield from spread_figures(planned, planned.spread, extents)
        yield from catch_test_figures(planned, planned.spread)
        yield from first_pass_figures(planned.first_pass, planned.spread, shown=shown)
        return
    yield from output_figures(parts[0], shown=shown)
    yield carrier_figure(parts[0], shown=shown) if len(parts) == 1 else _carrier(planned)
    yield from stays_figures(parts, shown=shown)
    yield from product_figures(planned.totals, extents, shown=shown)
    first = 0
    for part in parts:
        yield from load_figures(part, shown=shown, first=first)
        first += len(part.loads)
    yield from pass_figures(parts[0], shown=shown)
    yield from slope_figures(parts[0], parts[0].products, shown=shown)


def part_figures(planned: Planned) -> Iterator[Figure]:
    """Derive the figures of each tool's part, where there are two.

    Parameters
    ----------
    planned : Planned
        The figures. [-]

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
    if len(planned.parts) == 1:
        return
    for position, part in enumerate(planned.parts):
        yield from below(f"parts[{position}]", _part(part, planned))


def _part(part: Part, planned: Planned) -> Iterator[Figure]:
    shown, meets = planned.shown, planned.request.rate_meets
    whole = Input(f"{part.tool.words} area", shown.area_of(part.area_m2))
    name = f"Ground of the {part.tool.words}"
    yield Figure("area", name, whole.name, (whole,), whole.quantity, PARTS_SOURCE)
    yield from level_area_figure([part], shown=shown)
    if meets is RateMeets.PLAN:
        yield _rate_area([part], shown)
    yield from distance_figures(part.ground.kept_from, key="no_spray", shown=shown)
    yield from output_figures(part, shown=shown)
    yield carrier_figure(part, shown=shown)
    extents = extents_of([part], rate_meets=meets, shown=shown)
    yield from product_figures(part.totals, extents, shown=shown)
    yield from load_figures(part, shown=shown)
    yield from pass_figures(part, shown=shown)
    yield from slope_figures(part, part.products, shown=shown)
    yield from feeding_figures(part, planned.request.nutrient_rules, shown=shown)


def _carrier(planned: Planned) -> Figure:
    shown = planned.shown
    terms = tuple(Input(part.tool.words, shown.spray_of(part.carrier_l)) for part in planned.parts)
    return Figure(
        "carrier_volume",
        "Finished spray of both tools, products included",
        summed(terms),
        terms,
        shown.spray_of(planned.carrier_l),
        FINISHED_SPRAY_SOURCE,
    )


def _rate_area(parts: Sequence[Part], shown: Shown) -> Figure:
    inputs: list[Input] = []
    terms = []
    for number, part in enumerate(parts, start=1):
        area = Input(f"area {number}", shown.area_of(part.level_m2))
        factor = Input(f"slope factor {number}", Quantity(part.slope_factor, ""))
        inputs += [area, factor]
        terms.append(f"{area.name} / {factor.name}")
    return Figure(
        "rate_area",
        "Treatable area on the map, which the label’s rates meet",
        " + ".join(terms),
        tuple(inputs),
        shown.area_of(sum(part.rated_m2 for part in parts)),
        SLOPE_SOURCE,
    )
