"""Filling a tank onto what is in it: nothing is lost, nothing leaves the label."""

from math import fsum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.day.filling import Leftover, Need, load_onto, loads_in_a_row
from planner.core.label.labels import Label, Limits
from planner.core.mix.measures import Measures
from planner.core.mix.products import Product
from properties.core.units import Quantity

GALLON_L, FL_OZ_L = 3.785411784, 0.0295735295625
KSQFT_M2 = 92.90304
GAL_PER_KSQFT = GALLON_L / KSQFT_M2

MEASURES = Measures(
    liquid=(Quantity(1.0, "fl oz"), Quantity(0.1, "fl oz"), Quantity(0.1, "mL")),
    dry=(Quantity(0.05, "oz wt"), Quantity(0.1, "g")),
)


def product(rate: str, lowest: str, highest: str, unit: str) -> Product:
    ends = (Quantity(float(lowest), unit), Quantity(float(highest), unit))
    return Product(f"Invented, {unit}", Quantity(float(rate), unit), Label(Limits(*ends)))


LIQUID = product("1.2", "1.0", "1.5", "fl oz/1000 sq ft")
GRANULE = product("0.15", "0.12", "0.18", "oz wt/1000 sq ft")
SURFACTANT = product("0.25", "0.2", "0.3", "%")
POWDER = product("2", "1.5", "2.5", "oz wt/gal")
MIX = (LIQUID, GRANULE, SURFACTANT, POWDER)

thousands = st.floats(2, 60)
outputs = st.floats(0.5, 4)


def needs(areas: list[float], output: float) -> list[Need]:
    return [
        Need(number, (number - 1, number), None, area * KSQFT_M2, output * GAL_PER_KSQFT)
        for number, area in enumerate(areas, start=1)
    ]


def nothing(products: tuple[Product, ...] = MIX) -> Leftover:
    return Leftover(0.0, tuple(0.0 for _ in products))


@given(areas=st.lists(thousands, min_size=1, max_size=6), output=outputs, stays=st.floats(0, 8))
def test_all_that_is_filled_is_the_spray_of_the_day_and_what_stays_in_the_tank(
    areas: list[float], output: float, stays: float
) -> None:
    loads = loads_in_a_row(
        nothing(), needs(areas, output), MIX, stays_l=stays * GALLON_L, measures=MEASURES
    )

    filled = fsum(load.fill_l for load in loads) / GALLON_L
    assert filled == pytest.approx(fsum(areas) * output + stays, rel=1e-9)
    assert loads[-1].left.volume_l / GALLON_L == pytest.approx(stays, rel=1e-6, abs=1e-9)


@given(areas=st.lists(thousands, min_size=1, max_size=6), output=outputs, stays=st.floats(0.1, 8))
def test_product_that_goes_in_is_on_the_turf_or_in_what_is_left(
    areas: list[float], output: float, stays: float
) -> None:
    loads = loads_in_a_row(
        nothing(), needs(areas, output), MIX, stays_l=stays * GALLON_L, measures=MEASURES
    )

    for position in range(len(MIX)):
        of_it = [load.products[position] for load in loads]
        put_in = fsum(each.in_tank - each.carried for each in of_it)
        on_turf = fsum(
            each.in_tank / load.tank_l * load.need.spray_l
            for load, each in zip(loads, of_it, strict=True)
        )
        assert put_in == pytest.approx(on_turf + loads[-1].left.amounts[position], rel=1e-9)


@given(
    areas=st.lists(thousands, min_size=1, max_size=6),
    output=outputs,
    stays=st.floats(0, 8),
)
def test_no_rounded_load_leaves_the_label(areas: list[float], output: float, stays: float) -> None:
    loads = loads_in_a_row(
        nothing(), needs(areas, output), MIX, stays_l=stays * GALLON_L, measures=MEASURES
    )

    for load in loads:
        for each in load.products:
            assert each.measured is not None
            assert each.product.allows(each.rate) is True


@given(
    in_tank=st.floats(0.5, 30),
    strength=st.floats(0, 2),
    area=st.floats(2, 60),
    output=outputs,
)
def test_what_is_added_makes_the_whole_tank_as_strong_as_wanted(
    in_tank: float, strength: float, area: float, output: float
) -> None:
    """``strength`` is that of the leftover, as a share of the wanted one."""
    wanted_per_l = LIQUID.rate.si / (output * GAL_PER_KSQFT)
    carried = Leftover(in_tank * GALLON_L, (in_tank * GALLON_L * wanted_per_l * strength,))
    (need,) = needs([area], output)

    load = load_onto(carried, need, [LIQUID], stays_l=3 * GALLON_L, measures=MEASURES)

    (top_up,) = load.products
    assert top_up.carried + top_up.amount == pytest.approx(load.tank_l * wanted_per_l, rel=1e-9)
    assert top_up.is_too_strong == (top_up.carried > load.tank_l * wanted_per_l * (1 + 1e-9))


def gallons_at(per_gallon: float, gallons: float) -> Leftover:
    return Leftover(gallons * GALLON_L, (per_gallon * gallons * FL_OZ_L,))


def wanting(per_gallon: str) -> Product:
    return Product("Invented", Quantity(float(per_gallon), "fl oz/gal"))


def hundred_gallons() -> Need:
    return Need(1, (0, 1), None, 50 * KSQFT_M2, 2 * GAL_PER_KSQFT)


def test_nine_gallons_at_060_are_made_up_to_a_hundred_at_050_with_44_6_ounces() -> None:
    # Worked by hand: 100 × 0.50 − 9 × 0.60 = 44.6 fl oz in 91 gal.
    load = load_onto(
        gallons_at(0.60, 9), hundred_gallons(), [wanting("0.50")], stays_l=0, measures=MEASURES
    )

    assert load.fill_l / GALLON_L == pytest.approx(91, rel=1e-12)
    assert load.products[0].amount / FL_OZ_L == pytest.approx(44.6, rel=1e-12)


def test_nine_gallons_at_6_0_already_hold_more_than_a_hundred_at_050() -> None:
    # Worked by hand: 54 fl oz are there and 50 are wanted.
    load = load_onto(
        gallons_at(6.0, 9), hundred_gallons(), [wanting("0.50")], stays_l=0, measures=MEASURES
    )

    (top_up,) = load.products
    assert top_up.is_too_strong
    assert top_up.measured is None
    assert top_up.amount / FL_OZ_L == pytest.approx(-4, rel=1e-12)
    assert top_up.in_tank / FL_OZ_L == pytest.approx(54, rel=1e-12)


def test_nothing_is_added_where_the_leftover_is_just_as_wanted() -> None:
    load = load_onto(
        gallons_at(0.50, 100), hundred_gallons(), [wanting("0.50")], stays_l=0, measures=MEASURES
    )

    assert load.fill_l == pytest.approx(0, abs=1e-9)
    assert load.products[0].measured is not None
    assert load.products[0].measured.marks == 0
    assert load.water_l == pytest.approx(0, abs=1e-9)


def test_a_top_up_that_no_mark_shows_is_left_out_where_the_label_allows_that() -> None:
    coarse = Measures(liquid=(Quantity(20.0, "fl oz"),), dry=())
    there = gallons_at(0.59, 99)

    load = load_onto(
        there,
        Need(1, (0, 1), None, 50 * KSQFT_M2, 2 * GAL_PER_KSQFT),
        [LIQUID],
        stays_l=0,
        measures=coarse,
    )

    # 58.41 of 60 fl oz are there: 1.168 fl oz/1,000 sq ft. With 20 more it would be 1.568.
    (top_up,) = load.products
    assert top_up.measured is not None
    assert top_up.rate / FL_OZ_L * KSQFT_M2 == pytest.approx(1.1682, rel=1e-9)


def test_a_rate_outside_the_label_is_not_rounded() -> None:
    over = product("1.6", "1.0", "1.5", "fl oz/1000 sq ft")

    load = load_onto(nothing((over,)), hundred_gallons(), [over], stays_l=0, measures=MEASURES)

    assert load.products[0].measured is None


def test_products_that_leave_no_room_for_water_are_told_by_having_none() -> None:
    strong = Product("Invented", Quantity(150.0, "%"))

    load = load_onto(nothing((strong,)), hundred_gallons(), [strong], stays_l=0, measures=MEASURES)

    assert load.water_l is None


def test_an_empty_leftover_holds_nothing_a_litre() -> None:
    assert nothing().per_l(0) == 0
