"""What a visit costs at each stage is what its price says."""

from decimal import Decimal
from typing import Any

import pytest

from planner.core.leaks.leaks import NOTHING_KNOWN
from planner.core.leaks.stages import material_cost, planned_stage, quoted_stage
from planner.core.pricing import UnitCost, Used, price_as_json, price_of
from properties.core.errors import Refused
from properties.core.units import Quantity
from tests.planner.core.pricing.asking import VISIT, book, visit, work

PRICE: Any = price_as_json(price_of(work(), book()))


def test_a_plan_priced_as_it_was_quoted_leaks_nothing() -> None:
    quoted, planned = quoted_stage(PRICE, name="Visit"), planned_stage(VISIT, book())

    assert planned.material == quoted.material != {}
    assert planned.time == quoted.time
    assert planned.area_m2 == pytest.approx(quoted.area_m2, rel=1e-6)


def test_material_and_time_are_the_cost_of_the_price_less_its_overhead() -> None:
    told = quoted_stage(PRICE, name="Visit")
    (priced,) = PRICE["visits"]
    overhead = Decimal(priced["costs"][-1]["amount"])

    assert told.time is not None
    assert sum(told.material.values()) + told.time + overhead == Decimal(priced["cost"])


def test_a_visit_that_was_not_quoted_is_not_known() -> None:
    assert quoted_stage(PRICE, name="Another round") == NOTHING_KNOWN
    twice = PRICE | {"visits": PRICE["visits"] * 2}
    assert quoted_stage(twice, name="Visit") == NOTHING_KNOWN


def test_a_price_without_an_area_has_none() -> None:
    assert quoted_stage(PRICE | {"working": []}, name="Visit").area_m2 is None


def test_without_a_price_book_only_the_area_is_known() -> None:
    told = planned_stage(VISIT, None)

    assert (told.material, told.time, told.area_m2) == ({}, None, VISIT.area_m2)


def test_a_product_without_a_price_leaves_the_rest_known() -> None:
    unknown = Used("Invented dye", Quantity(2.0, "fl oz"), None, None)

    told = planned_stage(visit(products=(*VISIT.products, unknown)), book())

    assert set(told.material) == {used.name for used in VISIT.products}
    assert told.time == planned_stage(VISIT, book()).time


def test_a_pace_that_nobody_told_leaves_the_material_known() -> None:
    told = planned_stage(visit(paced_m2=200.0), book(pace_min=None))

    assert told.time is None
    assert told.material == planned_stage(VISIT, book()).material


def test_what_was_used_costs_its_share_of_a_container() -> None:
    jug = UnitCost(Decimal("160.00"), Quantity(2.5, "gal"))

    # 12 fl oz of 320 at 160.00.
    assert material_cost(Quantity(12.0, "fl oz"), jug) == Decimal("6.00")
    with pytest.raises(Refused):
        material_cost(Quantity(12.0, "oz wt"), jug)
