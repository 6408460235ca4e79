"""The day of a calibration is the one where the firm is, not the one in Greenwich."""

from datetime import UTC, date, datetime

import pytest

from planner.models import Calibration, Machine
from planner.selectors.calibrations import (
    Lasting,
    calibration_members,
    fittings_row,
    newest_calibration,
)
from planner.selectors.ground_done import day_made
from planner.services.applications import Entered
from properties.core.errors import Refused
from properties.models import Person, Property
from properties.selectors.places import day_of_firm

#: Half past eight in the evening of April 6 in Chicago.
EVENING = datetime(2026, 4, 7, 1, 30, tzinfo=UTC)
SIXTH = date(2026, 4, 6)


@pytest.fixture
def in_the_evening(machine: Machine) -> Calibration:
    made = newest_calibration(machine)
    assert made is not None
    made.done_at = EVENING
    made.save()
    return made


def test_a_calibration_of_the_evening_counts_for_work_on_that_day(
    in_the_evening: Calibration, place: Property
) -> None:
    machine = in_the_evening.machine

    assert place.time_zone == "America/Chicago"
    assert day_made(in_the_evening) == SIXTH
    assert newest_calibration(machine, on=SIXTH) == in_the_evening
    told = calibration_members(in_the_evening, fittings_row(machine), on=SIXTH)
    assert told["done_on"] == "2026-04-06"


def test_it_ends_by_the_same_day(in_the_evening: Calibration, place: Property) -> None:
    lasting = Lasting(days=1, area=None)

    assert place.firm_id == in_the_evening.machine.firm_id
    assert not lasting.has_ended(in_the_evening, on=date(2026, 4, 7))
    assert lasting.has_ended(in_the_evening, on=date(2026, 4, 8))


def test_a_firm_east_of_greenwich_is_ahead_of_it(
    in_the_evening: Calibration, place: Property
) -> None:
    Property.objects.filter(pk=place.pk).update(time_zone="Pacific/Auckland")
    late = datetime(2026, 4, 6, 20, 0, tzinfo=UTC)

    assert day_of_firm(late, place.firm_id) == date(2026, 4, 7)


def test_a_firm_without_a_property_goes_by_greenwich(in_the_evening: Calibration) -> None:
    assert day_made(in_the_evening) == date(2026, 4, 7)


def test_what_is_entered_in_the_evening_is_of_today_and_not_of_tomorrow(
    owner: Person, place: Property
) -> None:
    entered = Entered(owner, EVENING)

    entered.check_past(SIXTH, field="applied_on")
    with pytest.raises(Refused, match="has not come yet"):
        entered.check_past(date(2026, 4, 7), field="applied_on")
