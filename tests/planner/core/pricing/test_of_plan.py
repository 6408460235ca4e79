"""What a price takes from a plan is what the plan says."""

from decimal import Decimal

import pytest

from planner.core.plan import plan_from_json
from planner.core.pricing import UnitCost, Visit, price_of
from planner.core.pricing.of_plan import visit_of
from planner.core.report import plan_as_json
from properties.core.units import Quantity
from tests.planner.core.asking import LAWN, MACHINE, asking, place, with_output
from tests.planner.core.pricing.asking import book, work

COSTS = {"Invented herbicide": UnitCost(Decimal("160.00"), Quantity(2.5, "gal"))}
DRIVEN = MACHINE | {"speed": "3 mph", "turn_time": "6 s"}
PLACED = place(LAWN | {"properties": {"kind": "turf", "position_error": "1 ft"}})
GUN = with_output("2 gal/1000 sq ft", kind="hand_gun")


def visit(**changes: object) -> Visit:
    return visit_of(plan_from_json(asking(**changes)), name="Visit", costs=COSTS)


def test_area_product_and_edge_are_those_of_the_plan() -> None:
    told = plan_as_json(plan_from_json(asking(property=PLACED, machine=DRIVEN)))

    seen = visit(property=PLACED, machine=DRIVEN)

    assert Quantity(seen.area_m2, "m2").to("sq ft").value == pytest.approx(
        told["treatable_area"]["value"], rel=1e-12
    )
    mixed = told["products"][0]["amount_to_measure"]["value"]
    assert seen.products[0].amount.value == pytest.approx(mixed, rel=1e-12)
    assert seen.products[0].off is not None
    off = told["uncertainty"]["products"][0]["plus_minus"]["value"]
    assert seen.products[0].off.value == pytest.approx(off, rel=1e-12)
    # A lawn of 100 by 50 ft, drawn on the ellipsoid and measured in a plane.
    assert seen.edge_m / 0.3048 == pytest.approx(300, rel=1e-4)


def test_time_is_that_of_the_passes_where_the_speed_is_known() -> None:
    told = plan_as_json(plan_from_json(asking(machine=DRIVEN)))

    seen = visit(machine=DRIVEN)

    minutes = told["passes"]["work_time"]["value"]
    assert seen.passes_s / 60 == pytest.approx(minutes, rel=1e-12)
    assert seen.paced_m2 == 0


@pytest.mark.parametrize("machine", [MACHINE, GUN])
def test_ground_without_a_known_time_is_paced(machine: dict[str, object]) -> None:
    seen = visit(machine=machine)

    assert seen.passes_s == 0
    assert seen.paced_m2 == pytest.approx(seen.area_m2, rel=1e-12)


def test_a_plan_without_an_error_bar_gives_a_price_without_a_range() -> None:
    seen = visit(machine=DRIVEN)

    price = price_of(work(seen), book())

    assert price.low is None
    assert seen.products[0].off is None
    assert "Nobody says how far" in price.sureness.why_not["range"]
