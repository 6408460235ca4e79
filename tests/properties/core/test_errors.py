"""What is said against an input."""

import copy
import math
import pickle

import pytest

from properties.core.errors import FaultsFound, Refused, require_positive


@pytest.mark.parametrize("value", [0, -1, -0.0, math.nan, math.inf, -math.inf])
def test_a_number_that_is_not_above_zero_is_refused_by_its_name(value: float) -> None:
    with pytest.raises(Refused, match="is not a number above zero") as refused:
        require_positive(width_m=2, speed_m_per_s=value, flow_l_per_s=-3)

    assert refused.value.field == "speed_m_per_s"


def test_numbers_above_zero_pass() -> None:
    require_positive()
    require_positive(width_m=1e-300, speed_m_per_s=1e300)


def test_a_refusal_says_what_is_wrong_and_what_to_do() -> None:
    assert str(Refused("speed", "It stands still.", "Measure again.")) == (
        "It stands still. Measure again."
    )
    assert str(Refused("speed", "It stands still.")) == "It stands still."


def test_a_refusal_can_be_moved_to_the_field_of_an_outer_input() -> None:
    moved = Refused("speed", "It stands still.", "Measure again.").at("machine.speed")

    assert (moved.field, str(moved)) == ("machine.speed", "It stands still. Measure again.")


def test_all_faults_are_told_with_their_fields() -> None:
    found = FaultsFound([Refused("a", "One."), Refused("b", "Two.", "Do.")])

    assert str(found) == "a: One.; b: Two. Do."
    assert [fault.field for fault in found.faults] == ["a", "b"]


def test_a_refusal_survives_being_copied_and_sent_to_another_process() -> None:
    refused = Refused("a", "One.", "Do.")

    for same in (copy.copy(refused), pickle.loads(pickle.dumps(refused))):  # noqa: S301
        assert (same.field, same.problem, same.remedy) == ("a", "One.", "Do.")
