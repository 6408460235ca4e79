"""What a job needs is what its plan measures out, with what the plan says may be off."""

from datetime import date

import pytest

from planner.core.label.labels import Form
from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from planner.core.shown import Units
from planner.core.stock.figures import need_figure
from planner.core.stock.needs import Need, total_of
from planner.core.stock.of_plan import Shared, needs_of
from planner.core.tools import Tool
from properties.core.units import Quantity
from tests.planner.core.asking import LAWN, MACHINE, asking, place, with_output
from tests.planner.core.feeding_park import with_tests

MAY_1 = date(2026, 5, 1)
SHARED = Shared("lawn 7", {Tool.MACHINE: "boom", Tool.HAND_TOOL: "gun"})
PLACED = place(LAWN | {"properties": {"kind": "turf", "position_error": "1 ft"}})
THREE_RUNS = MACHINE  # calibrated by three runs: 1.00, 1.01 and 0.99 gal


def _need(**changes: object) -> Need:
    (need,) = needs_of(plan_from_json(asking(**changes)), on=MAY_1, shared=SHARED).values()
    return need


def test_the_need_of_a_job_is_what_is_measured_out() -> None:
    told = plan_as_json(plan_from_json(asking(property=PLACED, machine=THREE_RUNS)))

    need = _need(property=PLACED, machine=THREE_RUNS)

    (product,) = told["products"]
    measured = product["amount_to_measure"]
    assert need.amount == pytest.approx(Quantity(measured["value"], measured["unit"]).si)
    assert need.has_range


def test_the_band_of_one_job_is_that_of_its_plan() -> None:
    told = plan_as_json(plan_from_json(asking(property=PLACED, machine=THREE_RUNS)))

    need = _need(property=PLACED, machine=THREE_RUNS)

    (product,) = told["uncertainty"]["products"]
    off = product["with_output"]
    exact = told["products"][0]["amount"]["value"]
    # The plan tells the band of the exact amount; what is measured out is its rounding.
    share = Quantity(off["value"], off["unit"]).si / Quantity(exact, off["unit"]).si
    assert total_of([need]).half_width == pytest.approx(share * need.amount, rel=1e-9)


def test_ground_that_nobody_vouches_for_leaves_the_calibration_in_the_band() -> None:
    need = _need(machine=THREE_RUNS)

    assert need.by_ground == {}
    assert set(need.by_output) == {"boom"}
    assert not need.has_range


def test_one_run_of_a_calibration_tells_no_band() -> None:
    need = _need(property=PLACED, machine=with_output("0.71 gal/1000 sq ft"))

    assert set(need.by_ground) == {"lawn 7"}
    assert need.by_output == {}
    assert not need.has_range


def test_a_spreader_has_the_error_of_its_ground_alone() -> None:
    plan = plan_from_json(with_tests((12.0, "2.0 lb")))

    for need in needs_of(plan, on=MAY_1, shared=SHARED).values():
        assert need.amount > 0
        assert not need.has_range


def test_the_parts_of_an_upper_need_add_up_to_it() -> None:
    total = total_of([_need(property=PLACED, machine=THREE_RUNS)] * 2)

    figure = need_figure(total, form=Form.LIQUID, units=Units.US)

    told = {each.name: each.quantity.value for each in figure.inputs}
    squares = told["off_by_ground"] ** 2 + told["off_by_calibration_1"] ** 2
    assert figure.formula == "planned + sqrt(off_by_ground² + off_by_calibration_1²)"
    assert figure.result.value == pytest.approx(told["planned"] + squares**0.5, rel=1e-9)


def test_a_need_without_known_errors_is_what_is_planned() -> None:
    figure = need_figure(total_of([Need(MAY_1, 2.0)]), form=Form.DRY, units=Units.METRIC)

    assert figure.formula == "planned"
    assert figure.result == Quantity(2.0, "kg")


def test_calibrations_without_ground_stand_alone_in_the_sum() -> None:
    figure = need_figure(
        total_of([_need(machine=THREE_RUNS)]), form=Form.LIQUID, units=Units.METRIC
    )

    assert figure.formula == "planned + sqrt(off_by_calibration_1²)"
