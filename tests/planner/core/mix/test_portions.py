"""Each product's share of each load."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.calibration import Output
from planner.core.label.labels import Label, Limits
from planner.core.mix.loads import tank_fills
from planner.core.mix.measures import USUAL_MEASURES
from planner.core.mix.portions import Load, liquid_share, load_of, total_of
from planner.core.mix.products import Product
from planner.core.shown import Units
from properties.core.units import Quantity, parse_quantity, quantity_of_si

MEASURES = USUAL_MEASURES[Units.US]

HERBICIDE = Product(
    "Invented herbicide",
    parse_quantity("1.5 fl oz/1000 sq ft"),
    Label(Limits(parse_quantity("1.0 fl oz/1000 sq ft"), parse_quantity("2.0 fl oz/1000 sq ft"))),
)
SURFACTANT = Product("Invented surfactant", parse_quantity("0.25 %"))
GRANULE = Product("Invented granule", parse_quantity("0.15 oz wt/1000 sq ft"))
MIX = (HERBICIDE, GRANULE, SURFACTANT)


def loads_for(spray: str, tank: str, output: str, mix: tuple[Product, ...] = MIX) -> list[Load]:
    machine = Output(parse_quantity(output).si)
    fills = tank_fills(spray_l=parse_quantity(spray).si, tanks_l=[parse_quantity(tank).si])
    return [load_of(fill, mix, output=machine, measures=MEASURES) for fill in fills]


def fl_oz(amount_l: float) -> float:
    return quantity_of_si(amount_l, "fl oz").value


def test_a_partial_load_has_its_own_recipe() -> None:
    # 62,500 sq ft at 2 gal/1,000 sq ft from a 50 gal tank, worked from the definitions.
    loads = loads_for("125 gal", "50 gal", "2 gal/1000 sq ft")

    herbicide = [fl_oz(load.portions[0].amount) for load in loads]
    surfactant = [fl_oz(load.portions[2].amount) for load in loads]
    areas = [quantity_of_si(load.area_m2, "sq ft").value for load in loads]
    assert herbicide == pytest.approx([37.5, 37.5, 18.75], rel=1e-12)
    assert surfactant == pytest.approx([16, 16, 8], rel=1e-12)
    assert areas == pytest.approx([25_000, 25_000, 12_500], rel=1e-12)


def test_water_is_what_the_liquids_leave_room_for() -> None:
    (load,) = loads_for("50 gal", "50 gal", "2 gal/1000 sq ft")

    # 50 gal less 37.5 and 16 of its 6,400 fl oz; the granule takes no room.
    assert load.water_l is not None
    assert quantity_of_si(load.water_l, "gal").value == pytest.approx(50 - 53.5 / 128, rel=1e-12)


def test_products_that_fill_the_load_leave_no_water_and_more_than_that_is_unknown() -> None:
    neat = Product("Invented feed", parse_quantity("100 %"))

    (full,) = loads_for("5 gal", "5 gal", "1 gal/1000 sq ft", (neat,))
    (over,) = loads_for("5 gal", "5 gal", "1 gal/1000 sq ft", (neat, SURFACTANT))

    assert full.water_l == pytest.approx(0, abs=1e-12)
    assert over.water_l is None


def test_a_rate_outside_the_label_is_not_measured_out() -> None:
    strong = Product("Invented herbicide", parse_quantity("2.1 fl oz/1000 sq ft"), HERBICIDE.label)

    (load,) = loads_for("5 gal", "5 gal", "1 gal/1000 sq ft", (strong,))

    assert load.portions[0].measured is None
    assert load.portions[0].rate_after_rounding is None
    assert fl_oz(load.portions[0].amount) == pytest.approx(10.5, rel=1e-12)


def test_a_total_adds_up_what_is_measured_out() -> None:
    loads = loads_for("125 gal", "50 gal", "2 gal/1000 sq ft")
    area_m2 = parse_quantity("62500 sq ft").si

    total = total_of(HERBICIDE, loads, area_m2=area_m2, spray_l=parse_quantity("125 gal").si)

    # 37.5 lies half way between two marks: the lower, twice. 18.75 is nearest to 19.
    assert total.measured_in("fl oz") == Quantity(93.0, "fl oz")
    rate = total.rate_after_rounding()
    assert rate is not None
    assert quantity_of_si(rate, "fl oz/1000 sq ft").value == pytest.approx(93 / 62.5, rel=1e-12)
    assert fl_oz(total.amount) == pytest.approx(93.75, rel=1e-12)


def test_tenths_add_up_to_tenths() -> None:
    loads = loads_for("3 gal", "1 gal", "1 gal/1000 sq ft", (GRANULE,))

    total = total_of(GRANULE, loads, area_m2=278.7, spray_l=11.4)

    # 0.15 oz wt is three marks of 0.05, three times.
    assert total.measured_in("oz wt") == Quantity(0.45, "oz wt")


def test_a_total_of_what_cannot_be_measured_is_unknown() -> None:
    loads = loads_for("1.05 gal", "1 gal", "1 gal/1000 sq ft", (GRANULE,))

    total = total_of(GRANULE, loads, area_m2=97.5, spray_l=4.0)
    nothing = total_of(GRANULE, [], area_m2=0, spray_l=0)

    assert [portion.measured is None for portion in total.portions] == [False, True]
    assert (total.measured_in("oz wt"), total.rate_after_rounding()) == (None, None)
    assert (nothing.measured_in("oz wt"), nothing.amount) == (None, 0)


def test_the_share_of_a_published_mix_is_two_percent() -> None:
    # University of Georgia, C. Waltz and T. Murphy, Calibrate sprayer: 4 pt/acre at 25 gal/acre.
    product = Product("Invented product", parse_quantity("4 pt/acre"))

    share = liquid_share([product, GRANULE], output_l_per_m2=parse_quantity("25 gal/acre").si)

    assert share == pytest.approx(0.02, rel=1e-12)
    assert liquid_share(
        [product, SURFACTANT], output_l_per_m2=parse_quantity("25 gal/acre").si
    ) == pytest.approx(0.0225, rel=1e-12)


@given(spray_gal=st.floats(0.5, 400), tank_gal=st.floats(4, 200), output=st.floats(0.2, 5))
def test_the_loads_hold_all_of_each_product(
    spray_gal: float, tank_gal: float, output: float
) -> None:
    loads = loads_for(f"{spray_gal:.6f} gal", f"{tank_gal:.6f} gal", f"{output:.6f} gal/1000 sq ft")
    spray_l = parse_quantity(f"{spray_gal:.6f} gal").si
    area_m2 = spray_l / parse_quantity(f"{output:.6f} gal/1000 sq ft").si

    for position, product in enumerate(MIX):
        total = total_of(product, loads, area_m2=area_m2, spray_l=spray_l)
        by_load = math.fsum(load.portions[position].amount for load in loads)
        assert by_load == pytest.approx(total.amount, rel=1e-12)
