"""How every figure of a route came about, from its lawns to its rinses."""

from collections.abc import Iterator
from dataclasses import replace

from planner.core.day.filling import concentration
from planner.core.day.limits import WATER, TankLimits, weight_unit
from planner.core.day.partial import Partial, partial_loads
from planner.core.day.whole import Day
from planner.core.shown import Shown, in_unit
from planner.core.workings.calibration import calibration_figures
from planner.core.workings.day_end import end_figures
from planner.core.workings.day_loads import loads_of_day
from planner.core.workings.day_refill import refill_figures
from planner.core.workings.day_stops import stop_figures
from planner.core.workings.day_terms import (
    Named,
    amount_of,
    told,
    wanted_formula,
    with_output,
    worked,
)
from planner.core.workings.loads import AREA_SOURCE
from planner.core.workings.output import FINISHED_SPRAY_SOURCE
from planner.core.workings.terms import below
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure

#: How many of the units that dry products are shown in make one of the weight of spray.
DRY_IN_WEIGHT = {"lb/gal": 16, "kg/L": 1000}
LIMIT_SOURCE = "Our own rule: the least of what the tank, its fill limit and the weight allow."
WEIGHT_SOURCE = f"{LIMIT_SOURCE} A US gallon of water weighs 8.34 lb: common practice."
PARTIAL_SOURCE = "Common practice: product in a partial load = its volume × concentration."


def day_figures(day: Day) -> Iterator[Figure]:
    """Derive every figure of a route.

    Parameters
    ----------
    day : Day
        The route worked out. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations, in the order of the plan. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    if not day.request.has_place:
        machine = day.request.machine
        yield from calibration_figures(
            machine.calibration, day.output, swath=machine.swath, shown=day.shown
        )
    yield from below("route", _figures(day))


def by_hand_figures(by_hand: Day) -> Iterator[Figure]:
    """Derive every figure of what the hand tool of a route does.

    Parameters
    ----------
    by_hand : Day
        The route of the hand tool. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations, in the order of the plan. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    tool, shown = by_hand.request.machine, by_hand.shown
    output = calibration_figures(tool.calibration, by_hand.output, swath=tool.swath, shown=shown)
    for figure in below("route.by_hand", (*output, *_figures(by_hand))):
        yield replace(figure, name=f"By hand: {figure.name}")


def _figures(day: Day) -> Iterator[Figure]:
    if day.limits.weight_limit is not None:
        yield _weight(day)
    yield from _limits(day.limits, day.shown)
    yield from _totals(day)
    for number, stop in enumerate(day.stops):
        yield from below(f"stops[{number}]", stop_figures(stop, day))
    yield from loads_of_day(day)
    for number, partial in enumerate(partial_loads(day)):
        yield from below(f"partial_loads[{number}]", _partial(partial, day))
    yield from refill_figures(day)
    yield from end_figures(day)


def _weight(day: Day) -> Figure:
    """Derive what the spray weighs: each liquid in the room of as much water, dry on top."""
    shown, limits = day.shown, day.limits
    unit = weight_unit(shown)
    water, formula = ("water", in_unit(WATER, unit)), "water"
    terms = [water]
    for number, product in enumerate(day.products if limits.spray_kg_per_l else (), start=1):
        per_l = concentration(product, output_l_per_m2=day.output.l_per_m2)
        short = f"product {number}"
        terms.append((short, amount_of(product, per_l * Quantity(1.0, shown.spray).si, shown)))
        density = product.label.density
        if product.is_liquid and density is not None:
            terms.append((f"weight {number}", in_unit(density, unit)))
            formula += f" + {short} / {shown.small_in_volume} × (weight {number} − water)"
        else:
            formula += f" + {short} / {DRY_IN_WEIGHT[unit]}"
    result = quantity_of_si(limits.taken_kg_per_l, unit)
    name = "Weight of the spray" if limits.spray_kg_per_l else "Weight of the spray, as of water"
    return worked("spray_weight", name, formula, terms, result, WEIGHT_SOURCE)


def _limits(limits: TankLimits, shown: Shown) -> Iterator[Figure]:
    terms: list[Named] = [("tank", in_unit(limits.tank, shown.spray))]
    names, source = ["tank"], LIMIT_SOURCE
    if limits.fill_limit is not None:
        terms.append(("limit", in_unit(limits.fill_limit, shown.spray)))
        names.append("limit")
    if limits.weight_limit is not None:
        weighed = ("lb", "lb/gal") if shown.spray == "gal" else ("kg", "kg/L")
        terms.append(("weight allowed", in_unit(limits.weight_limit, weighed[0])))
        weight = quantity_of_si(limits.taken_kg_per_l, weighed[1])
        terms.append(("weight of spray", weight))
        names.append("weight allowed / weight of spray")
        source = WEIGHT_SOURCE
    holds, stays = shown.spray_of(limits.holds_l), shown.spray_of(limits.stays.si)
    formula = f"min({', '.join(names)})" if len(names) > 1 else "tank"
    yield worked("fill_limit", "What the tank may hold", formula, terms, holds, source)
    yield _unsprayable(limits, shown)
    yield worked(
        "one_load_sprays",
        "What one load can spray",
        "max(0, holds − cannot be sprayed)",
        (("holds", holds), ("cannot be sprayed", stays)),
        shown.spray_of(limits.most_l),
        "Our own derivation: what stays in the sump and the hose is in the tank and cannot be "
        "sprayed.",
    )


def _unsprayable(limits: TankLimits, shown: Shown) -> Figure:
    name, stays = "What stays in the sump and the hose", shown.spray_of(limits.stays.si)
    if limits.in_hose is None:
        return told("unsprayable", name, stays)
    sump = shown.spray_of(limits.stays.si - limits.in_hose.si)
    terms = (("sump", sump), ("hose", shown.spray_of(limits.in_hose.si)))
    source = "Our own derivation: the hose is full of spray, its bore squared × π / 4 × its length."
    return worked("unsprayable", name, "sump + hose", terms, stays, source)


def _totals(day: Day) -> Iterator[Figure]:
    shown = day.shown
    terms = [(f"lawn {stop.number}", shown.area_of(stop.area_m2)) for stop in day.stops]
    yield worked(
        "total_area",
        "The ground of the day",
        " + ".join(name for name, _ in terms),
        terms,
        shown.area_of(day.area_m2),
        "Our own derivation: every lawn once.",
    )
    yield worked(
        "total_spray",
        "Finished spray for the day, as planned",
        f"area × output / {shown.per_area}",
        (("area", shown.area_of(day.area_m2)), ("output", shown.output_of(day.output.l_per_m2))),
        shown.spray_of(day.spray_l),
        FINISHED_SPRAY_SOURCE,
    )


def _partial(partial: Partial, day: Day) -> Iterator[Figure]:
    shown, volume = day.shown, partial.volume
    output = shown.output_of(day.output.l_per_m2)
    yield told("volume", f"A partial load of {volume}", volume)
    yield worked(
        "area",
        f"Ground that {volume} are enough for",
        f"{shown.per_area} × volume / output",
        (("volume", volume), ("output", output)),
        shown.area_of(partial.area_m2),
        AREA_SOURCE,
    )
    for position, (product, amount) in enumerate(partial.amounts):
        rate = shown.rate_of(product.rate, product.rate.si)
        yield worked(
            f"products[{position}].amount",
            f"{product.name} in {volume}",
            wanted_formula(product, "volume", shown),
            with_output(product, (("volume", volume), ("rate", rate)), output),
            amount_of(product, amount, shown),
            PARTIAL_SOURCE,
        )
