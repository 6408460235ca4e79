"""What stored rows tell of a calibration, a set-up and fittings, read as a request is."""

import pytest

from planner.core.calibration import HandGunCourse
from planner.core.machine.fittings import Fittings
from planner.core.machine.set_up import SetUp
from planner.core.request.calibration import calibration_of
from planner.core.request.fittings import fittings_of
from planner.core.request.set_up import made_of, set_up_of
from properties.core.errors import FaultsFound
from properties.core.units import Quantity
from tests.planner.core.request.test_calibration import GUN


def test_a_calibration_is_read_as_in_a_request() -> None:
    assert isinstance(calibration_of(GUN), HandGunCourse)


def test_every_fault_of_a_calibration_is_told_at_its_member() -> None:
    with pytest.raises(FaultsFound) as found:
        calibration_of(GUN | {"times": ["0 s", "77 s", "x"], "course_length": "1 mm"})

    assert {fault.field for fault in found.value.faults} == {
        "course_length",
        "times[0]",
        "times[2]",
    }


def test_a_set_up_and_fittings_are_read_as_in_a_request() -> None:
    assert set_up_of({"tips": "Red", "pressure": "28 psi"}) == SetUp("Red", Quantity(28, "psi"))
    assert fittings_of({"nozzles": 6}) == Fittings(6)


def test_the_wanted_output_is_read_with_its_calibration() -> None:
    wanted = Quantity(5.25, "gal/1000 sq ft")

    assert made_of(GUN | {"target_output": "5.25 gal/1000 sq ft"}).target == wanted
    with pytest.raises(FaultsFound) as found:
        made_of(GUN | {"target_output": "0 gal/acre"})
    assert [fault.field for fault in found.value.faults] == ["target_output"]


def test_what_cannot_be_is_told_at_its_member() -> None:
    with pytest.raises(FaultsFound) as of_set_up:
        set_up_of({"pressure": "28 gal"})
    with pytest.raises(FaultsFound) as of_fittings:
        fittings_of({"nozzles": 0, "sides": 99})

    assert [fault.field for fault in of_set_up.value.faults] == ["set_up.pressure"]
    assert [fault.field for fault in of_fittings.value.faults] == ["nozzles", "sides"]
