"""Finished spray, product amounts, water to add."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.label.rates import (
    area_sprayed_m2,
    finished_spray_l,
    product_amount,
    water_to_add_l,
)
from properties.core.units import parse_quantity, quantity_of_si
from tests.planner.core.published import rows_of

positive = st.floats(min_value=1e-3, max_value=1e6)


@pytest.mark.parametrize("row", rows_of("tank_mixes.csv"), ids=lambda row: row["case"])
def test_a_published_mix_gives_the_published_amount(row: dict[str, str]) -> None:
    rate, extent, published = (parse_quantity(row[name]) for name in ("rate", "extent", "amount"))

    amount = product_amount(rate=rate.si, extent=extent.si)

    shown = quantity_of_si(amount, published.unit).value
    assert shown == pytest.approx(published.value, abs=float(row["tolerance"]))


def test_a_tank_is_enough_for_the_published_ground() -> None:
    # Mesa County (Colorado) Weed & Pest, How to Calibrate a Handgun: 25 gal at 150 gal/acre
    # spray a sixth of an acre.
    area_m2 = area_sprayed_m2(
        spray_l=parse_quantity("25 gal").si, output_l_per_m2=parse_quantity("150 gal/acre").si
    )

    assert quantity_of_si(area_m2, "acre").value == pytest.approx(1 / 6, rel=1e-12)


@pytest.mark.parametrize(
    ("rate", "load", "output", "published"),
    [
        # North Carolina State Extension, Backpack Sprayer Calibration Worksheet: 3.18, which
        # it rounds to 3.2; exactly 3.2.
        ("8 fl oz/acre", "3 gal", "7.5 gal/acre", "3.2 fl oz"),
        # Albany County (Wyoming) Weed & Pest Control District, Calibrating your sprayer.
        ("32 fl oz/acre", "20 gal", "20 gal/acre", "32 fl oz"),
    ],
)
def test_a_load_holds_the_published_product(
    rate: str, load: str, output: str, published: str
) -> None:
    area_m2 = area_sprayed_m2(
        spray_l=parse_quantity(load).si, output_l_per_m2=parse_quantity(output).si
    )

    amount = product_amount(rate=parse_quantity(rate).si, extent=area_m2)

    assert amount == pytest.approx(parse_quantity(published).si, rel=1e-9)


@given(area_m2=positive, output=positive)
def test_finished_spray_and_the_area_it_is_enough_for_are_inverse(
    area_m2: float, output: float
) -> None:
    spray_l = finished_spray_l(area_m2=area_m2, output_l_per_m2=output)

    assert area_sprayed_m2(spray_l=spray_l, output_l_per_m2=output) == pytest.approx(
        area_m2, rel=1e-12
    )


def test_finished_spray_includes_the_liquid_products() -> None:
    # 100 L with 2 L and 0.25 L of products: the rest of the hundred is water.
    assert water_to_add_l(spray_l=100, liquids_l=[2, 0.25]) == pytest.approx(97.75, rel=1e-12)
    assert water_to_add_l(spray_l=1, liquids_l=[0.75, 0.75]) == pytest.approx(-0.5, rel=1e-12)
