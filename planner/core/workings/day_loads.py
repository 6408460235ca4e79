"""How each load of a route came about: what is in the tank, what is added, what stays."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.core.day.filling import RouteLoad, TopUp
from planner.core.day.refill import Done
from planner.core.day.whole import Day
from planner.core.mix.measures import Measured
from planner.core.mix.products import Product
from planner.core.shown import Shown, in_unit
from planner.core.workings.day_terms import (
    CONCENTRATION_SOURCE,
    MADE_UP_SOURCE,
    amount_of,
    rate_given,
    told,
    wanted_formula,
    with_output,
    worked,
)
from planner.core.workings.output import FINISHED_SPRAY_SOURCE
from planner.core.workings.products import MEASURE_SOURCE
from planner.core.workings.terms import below
from properties.core.units import Quantity
from properties.core.working import Figure

STAYS_SOURCE = (
    "Our own rule: a load holds what its stretch needs and what cannot be sprayed, so that it ends "
    "empty where the tank is filled again."
)
THERE_SOURCE = "Our own derivation: what is left is as strong as all the tank was."


@dataclass(frozen=True)
class Before:
    """What the tank was before a load: the load or the reading it comes from, if any."""

    load: RouteLoad | None = None
    done: Done | None = None


def loads_of_day(day: Day) -> Iterator[Figure]:
    """Derive every load as planned, and those that follow from the gauge.

    Parameters
    ----------
    day : Day
        The route worked out. [-]

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
    yield from _in_a_row(day.loads, Before(), "loads", day)
    if day.refill is not None:
        before = Before(done=day.refill.done)
        yield from _in_a_row(day.refill.loads, before, "refill.loads", day)


def _in_a_row(loads: Sequence[RouteLoad], before: Before, key: str, day: Day) -> Iterator[Figure]:
    for number, load in enumerate(loads):
        yield from below(f"{key}[{number}]", _load(load, before, day))
        before = Before(load=load)


def _load(load: RouteLoad, before: Before, day: Day) -> Iterator[Figure]:
    shown = day.shown
    yield _area(load, day)
    yield from _volumes(load, before, day)
    yield from _water(load, shown)
    for position, each in enumerate(load.products):
        figures = _top_up(each, position, load, before, shown)
        yield from below(f"products[{position}]", figures)


def _where(load: RouteLoad) -> str:
    return f"Load {load.need.number}"


def _area(load: RouteLoad, day: Day) -> Figure:
    stops = [stop for stop in day.stops[slice(*load.need.stops)] if stop.area_m2]
    terms = [(f"lawn {stop.number}", day.shown.area_of(stop.area_m2)) for stop in stops]
    return worked(
        "area",
        f"{_where(load)}: the ground of its lawns",
        " + ".join(name for name, _ in terms),
        terms,
        day.shown.area_of(load.need.area_m2),
        "Our own derivation: the lawns of the stretch, each once.",
    )


def _volumes(load: RouteLoad, before: Before, day: Day) -> Iterator[Figure]:
    shown, where, need = day.shown, _where(load), load.need
    spray_of = shown.spray_of
    yield worked(
        "spray_needed",
        f"{where}: spray that goes onto its lawns",
        f"area × output / {shown.per_area}",
        (
            ("area", shown.area_of(need.area_m2)),
            ("output", shown.output_of(need.output_l_per_m2)),
        ),
        spray_of(need.spray_l),
        FINISHED_SPRAY_SOURCE,
    )
    yield _carried(load, before, shown)
    yield worked(
        "tank",
        f"{where}: spray in the tank when it is filled",
        "max(needed + cannot be sprayed, in it already)",
        (
            ("needed", spray_of(need.spray_l)),
            ("cannot be sprayed", spray_of(day.limits.stays.si)),
            ("in it already", spray_of(load.carried.volume_l)),
        ),
        spray_of(load.tank_l),
        STAYS_SOURCE,
    )
    yield worked(
        "add",
        f"{where}: finished spray to add",
        "tank − in it already",
        (("tank", spray_of(load.tank_l)), ("in it already", spray_of(load.carried.volume_l))),
        spray_of(load.fill_l),
        MADE_UP_SOURCE,
    )
    yield worked(
        "left",
        f"{where}: spray left in the tank at its end",
        "tank − needed",
        (("tank", spray_of(load.tank_l)), ("needed", spray_of(need.spray_l))),
        spray_of(load.left.volume_l),
        STAYS_SOURCE,
    )


def _carried(load: RouteLoad, before: Before, shown: Shown) -> Figure:
    name = f"{_where(load)}: spray in the tank already"
    result = shown.spray_of(load.carried.volume_l)
    if before.load is None:
        return told("carried", name, result)
    tank, needed = before.load.tank_l, before.load.need.spray_l
    return worked(
        "carried",
        name,
        "tank before − needed before",
        (("tank before", shown.spray_of(tank)), ("needed before", shown.spray_of(needed))),
        result,
        STAYS_SOURCE,
    )


def _water(load: RouteLoad, shown: Shown) -> Iterator[Figure]:
    if load.water_l is None:
        return
    liquids = [each for each in load.products if each.product.is_liquid]
    terms = [
        (f"liquid {number}", amount_of(each.product, max(0.0, each.amount), shown))
        for number, each in enumerate(liquids, start=1)
    ]
    less = "".join(f" − {name} / {shown.small_in_volume}" for name, _ in terms)
    yield worked(
        "water",
        f"{_where(load)}: water to add",
        f"max(0, add{less})",
        (("add", shown.spray_of(load.fill_l)), *terms),
        shown.spray_of(load.water_l),
    )


def _top_up(
    each: TopUp, position: int, load: RouteLoad, before: Before, shown: Shown
) -> Iterator[Figure]:
    product, where = each.product, _where(load)
    output = shown.output_of(load.need.output_l_per_m2)
    tank = ("tank", shown.spray_of(load.tank_l))
    there = ("there already", amount_of(product, each.carried, shown))
    yield _there(each, position, load, before, shown)
    rate = ("rate", shown.rate_of(product.rate, product.rate.si))
    yield worked(
        "amount",
        f"{where}: {product.name} to add, exactly",
        f"{wanted_formula(product, tank[0], shown)} − {there[0]}",
        with_output(product, (tank, rate, there), output),
        amount_of(product, each.amount, shown),
        MADE_UP_SOURCE,
    )
    added = amount_of(product, max(0.0, each.amount), shown)
    if each.measured is not None:
        yield _marks(each.measured, product, where, shown)
        added = each.measured.shown_in(added.unit)
    yield worked(
        "in_tank",
        f"{where}: {product.name} in the tank when it is filled",
        f"{there[0]} + added",
        (there, ("added", added)),
        amount_of(product, each.in_tank, shown),
        MADE_UP_SOURCE,
    )
    held = ("product", amount_of(product, each.in_tank, shown))
    yield worked(
        "rate_after_rounding",
        f"{where}: rate that the tank gives of {product.name}",
        rate_given(product, held[0], tank[0], shown),
        with_output(product, (held, tank), output),
        shown.rate_of(product.rate, each.rate),
        CONCENTRATION_SOURCE,
    )


def _marks(measured: Measured, product: Product, where: str, shown: Shown) -> Figure:
    unit = shown.amount_unit(product.rate)
    mark = in_unit(measured.mark, unit)
    return worked(
        "amount_to_measure",
        f"{where}: {product.name} to measure out",
        "number of marks × mark",
        (("number of marks", Quantity(measured.marks, "")), ("mark", mark)),
        measured.shown_in(unit),
        MEASURE_SOURCE,
    )


def _there(each: TopUp, position: int, load: RouteLoad, before: Before, shown: Shown) -> Figure:
    product = each.product
    name = f"{_where(load)}: {product.name} in the tank already"
    result = amount_of(product, each.carried, shown)
    held_l, held = _held(before, position)
    if not held_l:
        return told("carried", name, result)
    return worked(
        "carried",
        name,
        "product before × left / tank before",
        (
            ("product before", amount_of(product, held, shown)),
            ("left", shown.spray_of(load.carried.volume_l)),
            ("tank before", shown.spray_of(held_l)),
        ),
        result,
        THERE_SOURCE,
    )


def _held(before: Before, position: int) -> tuple[float, float]:
    """What the tank held before, and how much of one product."""
    if before.load is not None:
        return before.load.tank_l, before.load.products[position].in_tank
    if before.done is not None:
        return before.done.start.volume_l, before.done.start.amounts[position]
    return 0.0, 0.0
