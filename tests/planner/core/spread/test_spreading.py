"""Passes, bags and fillings of a spreader."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.label.labels import Label, Limits
from planner.core.machine.spreaders import Spreading, StatedSpread, spread_output_of
from planner.core.mix.measures import Measures
from planner.core.mix.products import Product
from planner.core.nutrient.nutrients import Fertilizer, Grade
from planner.core.spread.spreading import (
    Spread,
    Weighing,
    is_off,
    spread_of,
)
from properties.core.units import Quantity

SCALES = Measures((), (Quantity(0.01, "kg"),))
COARSE = Measures((), (Quantity(5.0, "kg"),))


def spread(
    *,
    label: Limits | None = None,
    most: float | None = None,
    measures: Measures = SCALES,
    output: float = 10.1,
    area_m2: float = 2240.0,
    slope_factor: float = 1.0,
) -> Spread:
    product = Product(
        "Invented feed",
        Quantity(20, "g/m2"),
        Label(rate=label or Limits()),
        fertilizer=Fertilizer(Grade(18, 3, 9), bag=Quantity(20, "kg")),
    )
    stated = StatedSpread(Quantity(output, "g/m2"))
    return spread_of(
        Spreading(stated, hopper=Quantity(20, "kg")),
        spread_output_of(stated, swath_m=4),
        product,
        rated_m2=area_m2,
        slope_factor=slope_factor,
        weighing=Weighing(measures, most),
    )


def test_two_passes_share_what_the_spreader_puts_down() -> None:
    whole = spread()

    assert whole.kg == pytest.approx(45.248)
    assert [each.portion.amount for each in whole.passes] == [pytest.approx(22.624)] * 2
    assert whole.deviation == pytest.approx(0.01)


@pytest.mark.parametrize(
    ("label", "most", "kg"),
    [
        pytest.param(Limits(), None, 22.62, id="no highest rate known: never up"),
        pytest.param(Limits(highest=Quantity(25, "g/m2")), None, 22.62, id="the nearer mark"),
        pytest.param(Limits(highest=Quantity(20.2, "g/m2")), None, 22.62, id="at the highest"),
        pytest.param(Limits(highest=Quantity(25, "g/m2")), 0.02021, 22.62, id="a limit binds"),
    ],
)
def test_a_pass_is_weighed_inside_label_and_limits(
    label: Limits, most: float | None, kg: float
) -> None:
    measured = spread(label=label, most=most).passes[0].portion.measured

    assert measured is not None
    assert measured.si == pytest.approx(kg)


@pytest.mark.parametrize(
    ("label", "most", "allowed"),
    [
        (Limits(highest=Quantity(20.1, "g/m2")), None, False),
        (Limits(lowest=Quantity(20.3, "g/m2")), None, False),
        (Limits(), 0.0201, False),
        (Limits(highest=Quantity(20.2, "g/m2")), 0.0202, True),
    ],
)
def test_a_rate_that_is_not_allowed_is_not_weighed_out(
    label: Limits, most: float | None, allowed: bool
) -> None:
    whole = spread(label=label, most=most)

    assert whole.allowed is allowed
    assert (whole.passes[0].portion.measured is not None) is allowed


def test_scales_that_are_too_coarse_weigh_nothing() -> None:
    whole = spread(measures=COARSE, area_m2=200)

    assert whole.allowed
    assert whole.passes[0].portion.measured is None


def test_no_ground_takes_nothing() -> None:
    whole = spread(area_m2=0)

    assert whole.kg == 0
    assert whole.bags is not None
    assert whole.bags.count == 0


def test_on_a_slope_rates_meet_the_map_and_the_weight_the_ground() -> None:
    level, bank = spread(), spread(area_m2=2240 / 1.02, slope_factor=1.02)

    assert bank.kg == pytest.approx(level.kg)
    assert bank.product.rate.si == pytest.approx(1.02 * level.product.rate.si)
    assert bank.deviation == pytest.approx(1.01 * 1.02 - 1)


@given(
    output=st.floats(5, 15),
    area_m2=st.floats(50, 20_000),
    highest=st.floats(10, 40),
    most=st.floats(0.01, 0.04),
)
def test_no_weighed_pass_leaves_the_label_or_a_limit(
    output: float, area_m2: float, highest: float, most: float
) -> None:
    whole = spread(
        label=Limits(highest=Quantity(highest, "g/m2")), most=most, output=output, area_m2=area_m2
    )

    rate = whole.total.rate_after_rounding()
    if rate is not None:
        assert rate <= min(highest / 1000, most) * (1 + 1e-8)
        assert math.isclose(rate, whole.product.rate.si, rel_tol=0.05 + 1e-9)


@pytest.mark.parametrize(
    ("deviation", "off"), [(0.05, False), (-0.05, False), (0.0501, True), (-0.0501, True)]
)
def test_five_percent_is_near_enough(deviation: float, off: bool) -> None:
    assert is_off(deviation) is off


# UMass Extension Turf Program, Rotary Spreader Calibration Procedures: for 5 lb per 1,000 sq ft
# anything from 4.75 to 5.25 is accepted.
@pytest.mark.parametrize(("lb", "off"), [(4.74, True), (4.75, False), (5.25, False), (5.26, True)])
def test_the_published_band_is_accepted(lb: float, off: bool) -> None:
    assert is_off(lb / 5 - 1) is off


# The same source: 5 lb per 1,000 sq ft in two passes at right angles are 2.5 lb each.
def test_the_published_half_rate_is_what_one_pass_should_put_down() -> None:
    stated = StatedSpread(Quantity(2.5, "lb/1000 sq ft"))
    whole = spread_of(
        Spreading(stated),
        spread_output_of(stated, swath_m=3),
        Product("Invented 20-5-10", Quantity(5, "lb/1000 sq ft")),
        rated_m2=Quantity(1000, "sq ft").si,
        slope_factor=1.0,
        weighing=Weighing(Measures((), (Quantity(0.1, "lb"),))),
    )

    assert whole.wanted_kg_per_m2 == pytest.approx(Quantity(2.5, "lb/1000 sq ft").si)
    assert whole.deviation == pytest.approx(0)
    measured = [each.portion.measured for each in whole.passes]
    assert [str(each.quantity) for each in measured if each] == [
        "2.5 lb",
        "2.5 lb",
    ]
