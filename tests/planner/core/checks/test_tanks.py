"""What is found about a mix in its tanks."""

from typing import Any

import pytest

from planner.core.findings import Finding
from planner.core.plan import Plan, plan_from_json
from tests.planner.core.asking import HERBICIDE, asking, codes, with_output

SURFACTANT = {"name": "Invented surfactant", "rate": "0.25 %", "formulation": "NIS"}


def plan_of(*mix: Any, **changes: Any) -> Plan:
    return plan_from_json(asking(mix=list(mix), **changes))


def refusal(plan: Plan, code: str) -> Finding:
    (found,) = [finding for finding in plan.refusals if finding.code == code]
    return found


def test_plain_water_is_told() -> None:
    plan = plan_of()

    assert codes(plan.warnings) == ["water_only"]
    assert plan.refusals == ()
    assert plan.carrier_l > 0


def test_an_unknown_formulation_is_told_only_where_there_is_an_order() -> None:
    unknown = {name: value for name, value in HERBICIDE.items() if name != "formulation"}

    assert "mixing_order_unconfirmed" not in codes(plan_of(unknown).warnings)
    assert "mixing_order_unconfirmed" not in codes(plan_of(HERBICIDE, SURFACTANT).warnings)
    assert "mixing_order_unconfirmed" in codes(plan_of(unknown, SURFACTANT).warnings)


def test_products_that_leave_no_room_for_water_are_refused() -> None:
    # 1.2 gal of product in each gallon of spray.
    feed = {"name": "Invented feed", "rate": "1.2 gal/1000 sq ft"}

    found = refusal(plan_of(feed), "mix_stronger_than_water")

    assert "120%" in found.message


def test_a_job_of_more_than_five_hundred_loads_is_refused() -> None:
    # 5,000 sq ft at 11 gal/1,000 sq ft are 55 gal: 550 loads of a tenth of a gallon.
    plan = plan_of(HERBICIDE, machine=with_output("11 gal/1000 sq ft", tanks=["0.1 gal"]))

    found = refusal(plan, "too_many_loads")
    assert "55 gal" in found.message
    assert "0.1 gal" in found.message
    assert plan.loads == ()
    assert plan.totals[0].amount > 0


JUG_AND_CUP = {"liquid": ["1 fl oz", "0.1 fl oz"]}


def test_an_amount_that_no_measure_shows_is_refused_with_two_ways_out() -> None:
    # Each gallon is for 1,000 sq ft: 1.02 fl oz, between 1 (too little) and 1.1 (too much).
    narrow = {"rate_min": "1.01 fl oz/1000 sq ft", "rate_max": "1.03 fl oz/1000 sq ft"}
    product = HERBICIDE | {"rate": "1.02 fl oz/1000 sq ft", "label": narrow}
    machine = with_output("1 gal/1000 sq ft", tanks=["1 gal"])

    plan = plan_of(product, machine=machine, measures=JUG_AND_CUP)

    found = refusal(plan, "measure_too_coarse")
    assert found.product == "Invented herbicide"
    assert "load 1, load 2, load 3, load 4 and load 5" in found.message
    assert "1.02 fl oz are needed for 1 gal" in found.message
    assert "1.01 fl oz/1000 sq ft to 1.03 fl oz/1000 sq ft" in found.message
    # Marks of 0.05 fall on 1.00 and 1.05; those of 0.02 on 1.02.
    assert "marks of 0.02 fl oz" in found.message
    # A range 0.02 wide holds a tenth for certain from 5,000 sq ft on, that is 5 gal.
    assert "at least 5 gal" in found.message
    assert plan.totals[0].measured_in("fl oz") is None


def test_a_product_by_volume_is_told_how_large_a_load_must_be() -> None:
    # 0.25 % of 0.3 gal is 0.096 fl oz, just below the finest mark.
    machine = with_output("0.06 gal/1000 sq ft")
    plan = plan_of(SURFACTANT, machine=machine, measures=JUG_AND_CUP)

    found = refusal(plan, "measure_too_coarse")
    assert "the rate asked for (never above" in found.message
    # 95 % to 100 % of 0.32 fl oz/gal is 0.016 fl oz/gal wide: a tenth needs 6.25 gal.
    assert "at least 6.25 gal" in found.message


def test_a_single_rate_on_a_label_is_told_how_to_be_entered() -> None:
    single = {"rate_min": "1.13 fl oz/1000 sq ft", "rate_max": "1.13 fl oz/1000 sq ft"}
    plan = plan_of(
        HERBICIDE | {"rate": "1.13 fl oz/1000 sq ft", "label": single},
        machine=with_output("1.7 gal/1000 sq ft", tanks=["1.1 gal"]),
    )

    assert "enter it as the highest only" in refusal(plan, "measure_too_coarse").message


@pytest.mark.parametrize("rate", ["1.6 fl oz/1000 sq ft", "0.9 fl oz/1000 sq ft"])
def test_a_rate_outside_the_label_is_refused_once(rate: str) -> None:
    plan = plan_of(HERBICIDE | {"rate": rate})

    (found,) = plan.refusals
    assert found.code in {"rate_above_label", "rate_below_label"}
