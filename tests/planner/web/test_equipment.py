"""Pages about machines and their calibrations."""

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from planner.models import Calibration, Machine
from planner.selectors.plans import _tool
from properties.models import Person

MACHINE = {
    "name": "Spare boom",
    "kind": "boom_sprayer",
    "swath_0": "8",
    "swath_1": "ft",
    "headlands": "1",
    "set_up_note": "",
    "tank_1_0": "60",
    "tank_1_1": "gal",
    "tank_2_0": "",
    "tank_2_1": "gal",
}
COURSE = {
    "course_length_0": "100",
    "course_length_1": "ft",
    "volume_unit": "gal",
    "run_1": "0.72",
    "run_2": "0.70",
    "run_3": "0.71",
    "note": "8 tips, 28 psi",
}


def test_a_machine_is_kept_with_its_tanks(client: Client, owner: Person) -> None:
    client.force_login(owner)

    client.post(reverse("new_machine"), MACHINE)

    kept = Machine.objects.get()
    assert str(kept.swath) == "8 ft"
    assert [str(tank.capacity) for tank in kept.tanks.all()] == ["60 gal"]


FURTHER = {
    "tank_2_0": "12",
    "tank_2_1": "gal",
    "fill_limit_1_0": "55",
    "fill_limit_1_1": "gal",
    "unsprayable_1_0": "1.5",
    "unsprayable_1_1": "gal",
    "unsprayable_2_0": "0",
    "unsprayable_2_1": "gal",
}


def test_what_a_tank_is_filled_to_and_what_stays_in_it_reach_the_plan(
    client: Client, owner: Person
) -> None:
    client.force_login(owner)
    client.post(reverse("new_machine"), MACHINE | FURTHER)
    kept = Machine.objects.get()
    client.post(reverse("calibrate", args=[kept.pk]), COURSE)

    page = client.get(kept.get_absolute_url())
    asked = _tool("machine", kept, timezone.now().date())

    assert b"filled to 55 gal" in page.content
    assert asked["fill_limit"] == ["55 gal", "12 gal"]
    assert asked["unsprayable"] == ["1.5 gal", "0 gal"]


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"swath_0": "0"}, "swath"),
        ({"fill_limit_1_0": "61", "fill_limit_1_1": "gal"}, "fill_limit_1"),
        ({"fill_limit_1_0": "1e9", "fill_limit_1_1": "gal"}, "fill_limit_1"),
        ({"unsprayable_1_0": "60", "unsprayable_1_1": "gal"}, "unsprayable_1"),
        ({"unsprayable_1_0": "1e9", "unsprayable_1_1": "gal"}, "unsprayable_1"),
        ({"unsprayable_2_0": "1", "unsprayable_2_1": "gal"}, "unsprayable_2"),
        (FURTHER | {"unsprayable_2_0": ""}, "unsprayable_2"),
        ({"swath_0": "wide"}, "swath"),
        ({"tank_1_0": ""}, "tank_1"),
        ({"tank_1_0": "-60"}, "tank_1"),
        ({"tank_1_0": "60 gal"}, "tank_1"),
        ({"name": ""}, "name"),
        ({"swath_0": "1e-7"}, "swath"),
        ({"tank_1_0": "1e308"}, "tank_1"),
        ({"width_0": "1e9", "width_1": "ft"}, "width"),
        ({"speed_0": "5000", "speed_1": "mph"}, "speed"),
    ],
)
def test_a_wrong_machine_is_said_beside_its_field_and_nothing_is_lost(
    client: Client, owner: Person, changed: dict[str, str], field: str
) -> None:
    client.force_login(owner)

    answer = client.post(reverse("new_machine"), MACHINE | changed)

    assert answer.status_code == 422
    assert answer.context["form"].errors.keys() == {field}
    for typed in (MACHINE | changed).values():
        assert typed.encode() in answer.content
    assert not Machine.objects.exists()


def test_a_name_stands_once_in_a_firm(client: Client, owner: Person, machine: Machine) -> None:
    client.force_login(owner)

    answer = client.post(reverse("new_machine"), MACHINE | {"name": machine.name})

    assert answer.status_code == 422
    assert b"There is a machine of this name already" in answer.content


def test_the_crew_calibrates_and_the_output_is_shown_with_its_working(
    client: Client, crew: Person, machine: Machine
) -> None:
    client.force_login(crew)

    page = client.post(reverse("calibrate", args=[machine.pk]), COURSE, follow=True)

    kept = Calibration.objects.first()
    assert kept is not None
    assert (kept.done_by, str(kept.swath)) == (crew, "10 ft")
    # 0.71 gal over 100 ft × 10 ft: the mean of the three runs per 1,000 sq ft, by hand.
    assert b'data-value="0.71' in page.content
    assert b"course length" in page.content


@pytest.mark.parametrize(
    ("changed", "field", "words"),
    [
        ({"run_2": "0"}, "run_2", "measures nothing"),
        ({"run_3": ""}, "run_3", "Three runs or more"),
        ({"run_1": "0,72"}, "run_1", "decimal point"),
        ({"run_1": "lots"}, "run_1", "number"),
        ({"run_1": "1.8 L"}, "run_1", "Write the number alone"),
        ({"run_4": "-1"}, "run_4", "measures nothing"),
        ({"course_length_0": "0"}, "course_length", "above zero"),
        ({"course_length_0": "1e-320"}, "course_length", "cannot be right"),
        ({"run_2": "1e308"}, "run_2", "cannot be right"),
        ({"run_1": "1e-300"}, "run_1", "cannot be right"),
    ],
)
def test_a_wrong_run_is_said_beside_it_and_nothing_is_lost(
    client: Client,
    owner: Person,
    machine: Machine,
    changed: dict[str, str],
    field: str,
    words: str,
) -> None:
    client.force_login(owner)

    answer = client.post(reverse("calibrate", args=[machine.pk]), COURSE | changed)

    assert answer.status_code == 422
    assert words in answer.context["form"].errors[field][0]
    assert b"8 tips, 28 psi" in answer.content
    assert Calibration.objects.count() == 1


def test_every_faulty_run_is_told_at_once(client: Client, owner: Person, machine: Machine) -> None:
    client.force_login(owner)
    typed = COURSE | {"run_1": "x", "run_2": "0", "run_3": ""}

    answer = client.post(reverse("calibrate", args=[machine.pk]), typed)

    assert answer.context["form"].errors.keys() >= {"run_1", "run_2", "run_3"}


def test_a_fluke_is_shown_by_its_number(client: Client, owner: Person, machine: Machine) -> None:
    client.force_login(owner)

    page = client.post(
        reverse("calibrate", args=[machine.pk]), COURSE | {"run_4": "1.40"}, follow=True
    )

    assert b"Run 4" in page.content
    assert b"left out" in page.content


def test_a_calibration_that_is_not_good_enough_is_not_called_the_one_for_plans(
    client: Client, owner: Person, machine: Machine
) -> None:
    client.force_login(owner)

    page = client.post(
        reverse("calibrate", args=[machine.pk]), COURSE | {"run_3": "1.40"}, follow=True
    )

    assert b"not good enough to plan with" in page.content
    assert b"used for plans" not in page.content


def test_what_few_machines_need_unfolds_where_it_is_wrong(client: Client, owner: Person) -> None:
    client.force_login(owner)
    fresh = client.get(reverse("new_machine")).context["form"]

    answer = client.post(reverse("new_machine"), MACHINE | {"tank_3_0": "0"})

    assert not fresh.rare_is_used()
    assert answer.status_code == 422
    assert answer.context["form"].rare_is_used()
