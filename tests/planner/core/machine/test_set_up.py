"""Whether a calibration still holds: its set-up, its age, the ground done since."""

from typing import Any

import pytest

from planner.core.plan import Plan, plan_from_json
from tests.planner.core.asking import MACHINE, Json, asking, codes
from tests.planner.core.request.test_whole import faults_of


def told(*, on: str | None = "2026-05-20", set_up: Json | None = None, **made: Any) -> Json:
    """A request whose calibration and machine tell more."""
    calibration = MACHINE["calibration"] | made
    machine = MACHINE | {"calibration": calibration}
    request = asking(machine=machine if set_up is None else machine | {"set_up": set_up})
    return request if on is None else request | {"on": on}


def planned(**changes: Any) -> Plan:
    return plan_from_json(told(**changes))


@pytest.mark.parametrize(
    ("done_on", "is_old"),
    [("2026-04-20", False), ("2026-04-19", True), ("2026-05-20", False)],
)
def test_a_calibration_is_good_to_the_last_day_and_not_a_day_longer(
    done_on: str, is_old: bool
) -> None:
    plan = planned(done_on=done_on, good_for="30 day")

    assert ("calibration_expired" in codes(plan.refusals)) is is_old


def test_an_old_calibration_is_told_with_its_days() -> None:
    (found,) = planned(done_on="2026-04-19", good_for="720 h").refusals

    assert (
        "The calibration of April 19, 2026 is 31 days old, and 30 days are allowed" in found.message
    )


@pytest.mark.parametrize("changes", [{"on": None, "done_on": "2026-01-01"}, {}])
def test_an_age_that_nobody_can_tell_is_a_warning_where_there_is_a_rule(changes: Any) -> None:
    plan = planned(good_for="30 day", **changes)

    assert codes(plan.warnings) == ["calibration_age_unknown"]
    assert codes(planned(**changes).warnings) == []


@pytest.mark.parametrize("rule", [{}, {"good_for": "30 day"}])
def test_a_calibration_that_is_later_than_the_work_is_told_with_a_rule_or_without(
    rule: Any,
) -> None:
    plan = planned(done_on="2026-05-21", **rule)

    assert codes(plan.warnings) == ["calibration_age_unknown"]
    assert "later than May 20, 2026" in plan.warnings[0].message


def test_worn_tips_are_told_by_the_ground_done_since() -> None:
    over = planned(good_for_area="20 acre", area_since="20.1 acre")

    assert codes(over.refusals) == ["calibration_expired"]
    assert "20.1 acre of ground were done since" in over.refusals[0].message
    assert codes(planned(good_for_area="20 acre", area_since="20 acre").refusals) == []
    assert codes(planned(good_for_area="20 acre").warnings) == ["calibration_area_unknown"]


WAS: Json = {"tips": "Red flat fan", "pressure": "28 psi", "pace": "4 mph", "person": "Cleo"}


@pytest.mark.parametrize(
    ("part", "now"),
    [("tips", "Blue"), ("pressure", "30 psi"), ("pace", "3 mph"), ("person", "Bram")],
)
def test_another_set_up_voids_the_calibration(part: str, now: str) -> None:
    request = told(set_up=WAS | {part: now})
    request["machine"]["calibration"]["set_up"] = WAS

    plan = plan_from_json(request)

    assert codes(plan.refusals) == ["calibration_void"]
    assert f"{part} ({WAS[part]} then, {now} now)" in plan.refusals[0].message


def test_the_same_set_up_in_other_words_is_the_same() -> None:
    request = told(set_up=WAS | {"tips": "red FLAT fan", "pressure": "193.053204 kPa"})
    request["machine"]["calibration"]["set_up"] = WAS

    plan = plan_from_json(request)

    assert (codes(plan.refusals), codes(plan.warnings)) == ([], [])


def test_a_set_up_that_nobody_wrote_down_is_a_warning() -> None:
    plan = planned(set_up={"pressure": "28 psi"})

    assert codes(plan.warnings) == ["calibration_set_up_unknown"]
    assert "pressure (28 psi now)" in plan.warnings[0].message


@pytest.mark.parametrize(
    ("made", "where", "words"),
    [
        ({"good_for": "30 ft"}, "good_for", "not a time"),
        ({"good_for": "0 day"}, "good_for", "not above zero"),
        ({"done_on": "May 20"}, "done_on", "not a day"),
        ({"good_for_area": "0 acre"}, "good_for_area", "not above zero"),
        ({"area_since": "-1 acre"}, "area_since", "below zero"),
        ({"set_up": {"colour": "red"}}, "set_up.colour", "not part of a plan request"),
        ({"set_up": {"pressure": "28 gal"}}, "set_up.pressure", "not a pressure"),
        ({"set_up": []}, "set_up", "not an object"),
    ],
)
def test_a_slip_is_told_at_its_member(made: Json, where: str, words: str) -> None:
    request = told()
    request["machine"]["calibration"] |= made

    faults = faults_of(request)

    assert words in faults[f"machine.calibration.{where}"]


def test_a_calibration_that_is_no_object_is_told_once() -> None:
    machine = MACHINE | {"calibration": "yes"}

    assert list(faults_of(asking(machine=machine))) == ["machine.calibration"]
