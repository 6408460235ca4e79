"""The figures of a season, reconstructed by hand from their own working."""

from datetime import date, timedelta

import pytest

from planner.core.season.degree_days import Formula, Scale
from planner.core.season.figures import count_figure, room_figure
from planner.core.season.readings import Reading, counted
from planner.core.season.rooms import RoomLeft, YearlyRoom
from properties.core.units import Quantity
from tests.planner.core.workings.test_workings_of_the_workshop import reckoned

FIRST = date(2026, 3, 1)
UNIT = "fl oz/1000 sq ft"


def _room(used: float | None, planned: float | None) -> tuple[YearlyRoom, RoomLeft]:
    amounts = [None if each is None else Quantity(each, UNIT).si for each in (used, planned)]
    place = RoomLeft(("Front", "Back"), 100.0, amounts[0], amounts[1], Quantity(3.4, UNIT).si)
    return YearlyRoom("W-4", "product", "3.4 in a year", UNIT, (place,)), place


@pytest.mark.parametrize(("used", "planned", "left"), [(1.2, 1.2, 1.0), (2.4, 1.2, 0.0)])
def test_what_is_left_is_the_limit_less_used_and_planned(
    used: float, planned: float, left: float
) -> None:
    figure = room_figure(*_room(used, planned))

    assert figure is not None
    assert figure.result.value == pytest.approx(left, abs=1e-9)
    assert reckoned(figure) == pytest.approx(figure.result.value, abs=1e-9)


def test_what_is_not_known_has_no_working() -> None:
    assert room_figure(*_room(None, 1.2)) is None
    assert (
        count_figure(
            counted([], scale=Scale(10.0), since=FIRST, until=FIRST), Scale(10.0), unit="deg F"
        )
        is None
    )


@pytest.mark.parametrize("unit", ["deg F", "deg C"])
@pytest.mark.parametrize("scale", [Scale(10.0), Scale(10.0, Formula.MODIFIED, 30.0)])
def test_degree_days_are_worked_out_from_the_day_before(scale: Scale, unit: str) -> None:
    ends = [(20.0, 5.0), (33.0, 12.0), (9.0, -2.0), (36.0, 22.0)]
    days = [Reading(FIRST + timedelta(days=n), *each) for n, each in enumerate(ends)]
    count = counted(days, scale=scale, since=FIRST, until=FIRST + timedelta(days=9))

    figure = count_figure(count, scale, unit=unit)

    assert figure is not None
    assert figure.result.unit == f"{unit} day"
    assert figure.result.si == pytest.approx(count.total, rel=1e-12)
    assert reckoned(figure) == pytest.approx(figure.result.value, rel=1e-9)
