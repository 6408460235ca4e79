"""How the figures at a refill came about: what was used, what the ground has had."""

from collections.abc import Iterator

from planner.core.day.gauge import Diagnosis
from planner.core.day.refill import Done, Naive
from planner.core.day.whole import Day
from planner.core.mix.products import Product
from planner.core.shown import Shown
from planner.core.workings.day_terms import (
    CONCENTRATION_SOURCE,
    amount_of,
    rate_given,
    told,
    with_output,
    worked,
)
from planner.core.workings.output import FINISHED_SPRAY_SOURCE
from planner.core.workings.terms import below
from properties.core.units import Quantity
from properties.core.working import Figure

USED_SOURCE = (
    "Our own derivation: output = (in the tank at the start − in the tank now) / ground it went "
    "out on."
)
THERE_SOURCE = "Our own derivation: what is left is as strong as all the tank was."


def refill_figures(day: Day) -> Iterator[Figure]:
    """Derive what the gauge says, and what the old recipe would do.

    Parameters
    ----------
    day : Day
        The route worked out. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations; those of the loads stand elsewhere. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    refill = day.refill
    if refill is not None:
        yield from below("refill", _done(refill.done, day.shown))
        if refill.naive is not None:
            yield from below("refill.naive", _naive(refill.naive, refill.done, day))
    if day.diagnosis is not None:
        yield from below("gauge", _gauge(day.diagnosis, day))


def _done(done: Done, shown: Shown) -> Iterator[Figure]:
    started = shown.spray_of(done.start.volume_l)
    now = shown.spray_of(done.in_tank_l)
    used = shown.spray_of(done.used_l)
    area = shown.area_of(done.area_m2)
    output = shown.output_of(done.output_l_per_m2)
    yield told("started_with", "Spray in the tank when the load began", started)
    yield told("in_tank", "Spray that the gauge shows now", now)
    yield worked(
        "used",
        "Spray that went out",
        "at the start − now",
        (("at the start", started), ("now", now)),
        used,
        USED_SOURCE,
    )
    yield told("area", "Ground it went out on", area)
    yield worked(
        "measured_output",
        "Output as it really was",
        f"{shown.per_area} × used / area",
        (("used", used), ("area", area)),
        output,
        USED_SOURCE,
    )
    planned = shown.output_of(done.load.need.output_l_per_m2)
    yield worked(
        "drift_percent",
        "How far the output is from the planned one",
        "100 × (measured / planned − 1)",
        (("measured", output), ("planned", planned)),
        Quantity(100 * done.drift, "%"),
        USED_SOURCE,
    )
    for position, each in enumerate(done.load.products):
        figures = _product(each.product, position, done, shown)
        yield from below(f"products[{position}]", figures)


def _product(product: Product, position: int, done: Done, shown: Shown) -> Iterator[Figure]:
    put_in = ("put in", amount_of(product, done.start.amounts[position], shown))
    started = ("at the start", shown.spray_of(done.start.volume_l))
    now = ("now", shown.spray_of(done.in_tank_l))
    yield told("put_in", f"{product.name} in the tank when the load began", put_in[1])
    yield worked(
        "in_tank",
        f"{product.name} that is in the tank now",
        "put in × now / at the start",
        (put_in, now, started),
        amount_of(product, done.left.amounts[position], shown),
        THERE_SOURCE,
    )
    yield worked(
        "rate",
        f"Rate that the ground has had of {product.name}",
        rate_given(product, put_in[0], started[0], shown),
        with_output(product, (put_in, started), shown.output_of(done.output_l_per_m2)),
        shown.rate_of(product.rate, done.delivered(product, position)),
        CONCENTRATION_SOURCE,
    )


def _naive(naive: Naive, done: Done, day: Day) -> Iterator[Figure]:
    shown, planned = day.shown, day.loads[done.load.need.number]
    output = shown.output_of(done.output_l_per_m2)
    tank = ("tank", shown.spray_of(naive.tank_l))
    now = ("in the tank", shown.spray_of(done.in_tank_l))
    yield worked(
        "tank",
        "Spray in the tank after the old recipe",
        "in the tank + planned to add",
        (now, ("planned to add", shown.spray_of(planned.fill_l))),
        tank[1],
    )
    yield worked(
        "left",
        "Spray that the old recipe would leave over",
        f"tank − area × output / {shown.per_area}",
        (tank, ("area", shown.area_of(planned.need.area_m2)), ("output", output)),
        shown.spray_of(naive.left_l),
        FINISHED_SPRAY_SOURCE,
    )
    for position, each in enumerate(planned.products):
        product = each.product
        there = ("there", amount_of(product, done.left.amounts[position], shown))
        added = ("planned", amount_of(product, each.in_tank - each.carried, shown))
        yield worked(
            f"products[{position}].rate",
            f"Rate of {product.name} after the old recipe",
            rate_given(product, "(there + planned)", tank[0], shown),
            with_output(product, (there, added, tank), output),
            shown.rate_of(product.rate, naive.rates[position]),
            CONCENTRATION_SOURCE,
        )


def _gauge(diagnosis: Diagnosis, day: Day) -> Iterator[Figure]:
    shown = day.shown
    for number, use in enumerate(diagnosis.uses):
        name = day.stops[use.stop].asked.name
        used, planned = shown.spray_of(use.used_l), shown.spray_of(use.planned_l)
        key = f"stops[{number}]"
        yield told(f"{key}.used", f"{name}: spray that the gauge says went out", used)
        area = shown.area_of(day.stops[use.stop].area_m2)
        yield worked(
            f"{key}.planned",
            f"{name}: spray that was planned",
            f"area × output / {shown.per_area}",
            (("area", area), ("output", shown.output_of(day.output.l_per_m2))),
            planned,
            FINISHED_SPRAY_SOURCE,
        )
        yield worked(
            f"{key}.deviation_percent",
            f"{name}: how far the use is from the plan",
            "100 × (used / planned − 1)",
            (("used", used), ("planned", planned)),
            Quantity(100 * use.deviation, "%"),
            USED_SOURCE,
        )
