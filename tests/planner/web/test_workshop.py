"""The calibration workshop: each way of measuring, what it came to, and what voids it."""

from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from planner.models import Calibration, CalibrationRule, Fittings, Machine, Measure, Mix
from planner.selectors.calibrations import newest_calibration
from planner.selectors.plans import Asked, plan_for, request_for
from planner.services.calibrations import keep_fittings, record_course_calibration
from properties.core.errors import Refused
from properties.core.units import Quantity
from properties.models import Person, Property

NOTHING = {"note": "", "catch_unit": "fl oz"}
CATCH = NOTHING | {
    "nozzle_spacing_0": "20",
    "nozzle_spacing_1": "in",
    "catch_time_0": "30",
    "catch_time_1": "s",
    **{f"catch_{n}": "36" for n in range(1, 7)},
    "course_length_0": "200",
    "course_length_1": "ft",
    "speed_0": "",
    "speed_1": "mph",
    "run_1": "34.0",
    "run_2": "34.2",
    "run_3": "33.9",
}
WALK = NOTHING | {
    "course_length_0": "200",
    "course_length_1": "ft",
    "catch_unit": "gal",
    "run_1": "77",
    "run_2": "79",
    "run_3": "78",
    "catch_1": "5.25",
}
PLOT = NOTHING | {
    "plot_length_0": "18.5",
    "plot_length_1": "ft",
    "plot_width_0": "18.5",
    "plot_width_1": "ft",
    "run_1": "20",
    "run_2": "20",
    "run_3": "20",
    "catch_1": "31",
}


@pytest.mark.parametrize(
    ("method", "typed", "output"),
    [
        # 5940 × (36 / 128 × 2) gpm / (200 ft in 34.033 s, 4.0067 mph, × 20 in) / 43.56, by hand.
        ("timed_catch", CATCH, 0.95718),
        # NC State, Spray Gun: 5.25 gal in the mean time of 1,000 sq ft.
        ("hand_gun_course", WALK | {"course_length_0": "100"}, 5.25),
        # Kansas State: 31 fl oz on 342.25 sq ft, by hand.
        ("small_plot", PLOT, 0.70763),
    ],
)
def test_each_way_of_measuring_ends_at_its_output(
    client: Client,
    crew: Person,
    machine: Machine,
    method: str,
    typed: dict[str, str],
    output: float,
) -> None:
    client.force_login(crew)

    page = client.post(reverse(f"calibrate_{method}", args=[machine.pk]), typed, follow=True)

    assert page.context["calibration"].told["method"] == method
    assert page.context["sheet"].output.result.value == pytest.approx(output, rel=2e-4)
    assert b"Passed" in page.content
    assert b"used for plans" in page.content


@pytest.mark.parametrize(
    ("method", "typed", "told"),
    [
        ("timed_catch", CATCH | {"run_3": ""}, ("run_3", "Three runs or more")),
        ("timed_catch", CATCH | {"run_2": "0"}, ("run_2", "not above zero")),
        ("timed_catch", CATCH | {"catch_4": "0"}, ("catch_4", "not above zero")),
        ("timed_catch", CATCH | {"catch_4": "lots"}, ("catch_4", "begin with a number")),
        ("timed_catch", CATCH | {"catch_4": "36 mL"}, ("catch_4", "not a unit on our list")),
        ("timed_catch", CATCH | {"catch_4": ""}, ("catch_4", "Fill the boxes in order")),
        ("timed_catch", CATCH | {"nozzle_spacing_0": "0"}, ("nozzle_spacing", "above zero")),
        ("timed_catch", CATCH | {"course_length_0": ""}, ("course_length", "Measure a course")),
        ("timed_catch", CATCH | {"speed_0": "4"}, ("speed", "Both a speed and timed runs")),
        ("hand_gun_course", WALK | {"catch_1": ""}, ("catch_1", "Catch the tip at least once")),
        ("hand_gun_course", WALK | {"run_1": "x"}, ("run_1", "begin with a number")),
        ("hand_gun_course", WALK | {"course_length_0": "0"}, ("course_length", "above zero")),
        ("small_plot", PLOT | {"plot_width_0": ""}, ("plot_width", "Enter a number")),
        ("small_plot", PLOT | {"run_2": ""}, ("run_2", "Three runs or more")),
    ],
)
def test_what_is_wrong_is_said_beside_its_box_and_nothing_is_lost(
    client: Client,
    crew: Person,
    machine: Machine,
    method: str,
    typed: dict[str, str],
    told: tuple[str, str],
) -> None:
    client.force_login(crew)
    field, words = told

    answer = client.post(
        reverse(f"calibrate_{method}", args=[machine.pk]), typed | {"note": "Yard lawn"}
    )

    assert answer.status_code == 422
    assert words in answer.context["form"].errors[field][0]
    assert b"Yard lawn" in answer.content
    assert Calibration.objects.count() == 1


def test_a_speed_that_was_read_off_stands_for_a_course(
    client: Client, crew: Person, machine: Machine
) -> None:
    client.force_login(crew)
    typed = CATCH | {"course_length_0": "", "run_1": "", "run_2": "", "run_3": "", "speed_0": "4"}

    page = client.post(reverse("calibrate_timed_catch", args=[machine.pk]), typed, follow=True)

    assert b"The speed was read, not timed" in page.content


def test_one_bad_nozzle_fails_although_the_mean_is_right_and_is_seen_in_the_picture(
    client: Client, crew: Person, machine: Machine
) -> None:
    client.force_login(crew)
    typed = CATCH | {"catch_2": "30", "catch_5": "42"}

    page = client.post(reverse("calibrate_timed_catch", args=[machine.pk]), typed, follow=True)

    assert page.context["sheet"].output.result.value == pytest.approx(0.95718, rel=2e-4)
    assert b"Failed" in page.content
    assert "Nozzle 2 gives 30 fl oz, 16.7% less" in page.content.decode()
    off = [bar["number"] for bar in page.context["bars"]["bars"] if bar["is_off"]]
    assert off == [2, 5]
    assert page.content.count(b"nozzle-off") == 2


def test_an_output_off_the_wanted_one_fails_with_the_way_there(
    client: Client, crew: Person, machine: Machine
) -> None:
    client.force_login(crew)
    wanted = {"target_output_0": "0.87", "target_output_1": "gal/1000 sq ft"}

    page = client.post(
        reverse("calibrate_timed_catch", args=[machine.pk]), CATCH | wanted, follow=True
    )

    # 0.95718 / 0.87 is 10 % more, by hand.
    assert b"Failed" in page.content
    assert "Go 10% faster or set the pressure 17% lower" in page.content.decode()


def test_every_nozzle_that_is_fitted_must_be_caught(
    client: Client, crew: Person, machine: Machine
) -> None:
    keep_fittings(Fittings(machine=machine, nozzles=7, nozzle_spacing=Quantity(20.0, "in")))
    client.force_login(crew)

    answer = client.post(reverse("calibrate_timed_catch", args=[machine.pk]), CATCH)

    assert "leaves a stripe" in answer.context["form"].errors["catch_7"][0]


SET_UP = {
    "tips": "Red",
    "pressure_0": "28",
    "pressure_1": "psi",
    "pace": "4 mph",
    "worked_by": "",
    "nozzles": "6",
    "nozzle_spacing_0": "20",
    "nozzle_spacing_1": "in",
    "sides": "3",
    "pump": "fixed",
    "hose_length_0": "",
    "hose_length_1": "ft",
    "hose_bore_0": "",
    "hose_bore_1": "in",
    "good_for_days": "30",
    "good_for_area_0": "40",
    "good_for_area_1": "acre",
}


def test_another_tip_voids_the_calibration_and_the_old_tip_brings_it_back(
    client: Client, owner: Person, machine: Machine, place: Property, mix: Mix
) -> None:
    client.force_login(owner)
    address = reverse("fittings", args=[machine.pk])
    client.post(address, SET_UP)
    client.post(reverse("calibrate_timed_catch", args=[machine.pk]), CATCH)
    made = newest_calibration(machine)
    assert made is not None
    assert made.set_up == {"tips": "Red", "pressure": "28 psi", "pace": "4 mph"}

    client.post(address, SET_UP | {"tips": "Blue"})
    Calibration.objects.exclude(pk=made.pk).delete()

    assert newest_calibration(machine) is None
    with pytest.raises(Refused) as refused:
        request_for(owner, Asked(place=place, machine=machine, mix=mix), day=timezone.now().date())
    assert "Tips: Red then, Blue now" in str(refused.value)
    page = client.get(made.get_absolute_url())
    assert b"Void" in page.content

    client.post(address, SET_UP)
    assert newest_calibration(machine) == made


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"pressure_0": "0"}, "pressure"),
        ({"pressure_0": "90000"}, "pressure"),
        ({"nozzles": "0"}, "nozzles"),
        ({"sides": "99"}, "sides"),
        ({"hose_length_0": "300"}, "hose_bore"),
        ({"hose_bore_0": "0.5"}, "hose_length"),
        ({"good_for_days": "-3"}, "good_for_days"),
    ],
)
def test_wrong_fittings_are_said_beside_their_field(
    client: Client, owner: Person, machine: Machine, changed: dict[str, str], field: str
) -> None:
    client.force_login(owner)

    answer = client.post(reverse("fittings", args=[machine.pk]), SET_UP | changed)

    assert answer.status_code == 422
    assert answer.context["form"].errors.keys() == {field}
    assert b'value="Red"' in answer.content
    assert not Fittings.objects.exists()


def test_a_calibration_older_than_the_firm_allows_refuses_the_plan(
    client: Client, owner: Person, machine: Machine, place: Property, mix: Mix
) -> None:
    client.force_login(owner)
    client.post(reverse("calibration_rule"), {"good_for_days": "30", "good_for_area_0": ""})
    assert CalibrationRule.objects.get().good_for_days == 30
    made = newest_calibration(machine)
    assert made is not None

    codes = [
        {
            refusal["code"]
            for refusal in plan_for(
                request_for(
                    owner,
                    Asked(place=place, machine=machine, mix=mix),
                    day=made.done_at.date() + timedelta(days=days),
                )
            )["refusals"]
        }
        for days in (30, 31)
    ]

    assert ["calibration_expired" in found for found in codes] == [False, True]


def test_an_expired_calibration_says_so_wherever_it_is_shown(
    client: Client, crew: Person, machine: Machine
) -> None:
    client.force_login(crew)
    Calibration.objects.update(done_at=timezone.now() - timedelta(days=32))
    made = newest_calibration(machine)
    assert made is not None
    pages = [reverse("machines"), machine.get_absolute_url(), made.get_absolute_url()]

    before = [client.get(page).content.lower().count(b"expired") for page in pages]
    CalibrationRule.objects.create(firm=machine.firm, good_for_days=30)
    after = [client.get(page).content.lower().count(b"expired") for page in pages]

    assert (before, after) == ([0, 0, 0], [1, 1, 1])


def test_a_machine_may_have_a_limit_of_its_own(
    owner: Person, machine: Machine, place: Property, mix: Mix
) -> None:
    CalibrationRule.objects.create(firm=machine.firm, good_for_days=30)
    keep_fittings(Fittings(machine=machine, good_for_days=90))

    request = request_for(
        owner, Asked(place=place, machine=machine, mix=mix), day=timezone.now().date()
    )

    assert request["machine"]["calibration"]["good_for"] == "90 day"


def test_ground_done_since_is_noted_and_wears_the_calibration_out(
    client: Client, crew: Person, machine: Machine, place: Property, mix: Mix
) -> None:
    CalibrationRule.objects.create(firm=machine.firm, good_for_area=Quantity(40.0, "acre"))
    made = newest_calibration(machine)
    assert made is not None
    client.force_login(crew)
    address = reverse("ground_done", args=[made.pk])

    refused = client.post(address, {"area_since_0": "-1", "area_since_1": "acre"})
    client.post(address, {"area_since_0": "41", "area_since_1": "acre"})

    assert refused.status_code == 422
    asked = request_for(crew, Asked(place=place, machine=machine, mix=mix), day=made.done_at.date())
    assert asked["machine"]["calibration"]["area_since"] == "41 acre"
    assert "calibration_expired" in {each["code"] for each in plan_for(asked)["refusals"]}


def test_what_is_fitted_reaches_the_plan(
    owner: Person, hand_gun: Machine, place: Property, mix: Mix, machine: Machine
) -> None:
    keep_fittings(
        Fittings(
            machine=hand_gun,
            hose_length=Quantity(300.0, "ft"),
            hose_bore=Quantity(0.5, "in"),
            worked_by=owner,
        )
    )

    asked = request_for(
        owner,
        Asked(place=place, machine=machine, mix=mix, hand_tool=hand_gun),
        day=timezone.now().date(),
    )["hand_tool"]

    assert asked["hose"] == {"length": "300 ft", "bore": "0.5 in"}
    assert asked["set_up"] == {"person": owner.name}


def test_the_measures_on_the_trucks_are_those_that_plans_round_to(
    client: Client, owner: Person, machine: Machine, place: Property, mix: Mix
) -> None:
    client.force_login(owner)

    client.post(
        reverse("measures"),
        {
            "liquid_1_0": "1",
            "liquid_1_1": "fl oz",
            "liquid_2_0": "5",
            "liquid_2_1": "mL",
            "dry_1_0": "0.05",
            "dry_1_1": "oz wt",
        },
    )

    asked = request_for(
        owner, Asked(place=place, machine=machine, mix=mix), day=timezone.now().date()
    )
    assert asked["measures"] == {"liquid": ["1 fl oz", "5 mL"], "dry": ["0.05 oz wt"]}
    page = client.get(reverse("measures"))
    assert b'value="0.05"' in page.content


def test_a_mark_that_no_measure_has_is_said_beside_its_box(client: Client, owner: Person) -> None:
    client.force_login(owner)

    answer = client.post(reverse("measures"), {"liquid_1_0": "1e9", "liquid_1_1": "gal"})

    assert answer.status_code == 422
    assert "cannot be right" in answer.context["form"].errors["liquid_1"][0]
    assert not Measure.objects.exists()


def test_the_workshop_offers_what_goes_with_the_kind(
    client: Client, crew: Person, machine: Machine, hand_gun: Machine
) -> None:
    client.force_login(crew)

    boom = client.get(reverse("workshop", args=[machine.pk]))
    gun = client.get(reverse("workshop", args=[hand_gun.pk]))

    assert boom.context["ways"][0] == "timed_catch"
    assert gun.context["ways"][0] == "hand_gun_course"
    assert reverse("calibrate_small_plot", args=[hand_gun.pk]).encode() in gun.content


def test_a_metric_swath_fills_in_a_metric_course(
    client: Client, crew: Person, hand_gun: Machine
) -> None:
    client.force_login(crew)
    address = reverse("calibrate_hand_gun_course", args=[hand_gun.pk])

    us = client.get(address).context["form"].fields["course_length"].initial
    Machine.objects.filter(pk=hand_gun.pk).update(swath=Quantity(1.6, "m"))
    metric = client.get(address).context["form"].fields["course_length"].initial

    # 1,000 sq ft over 5 ft, and 100 m² over 1.6 m.
    assert (us, metric) == (Quantity(200.0, "ft"), Quantity(62.5, "m"))


def test_a_calibration_is_kept_with_the_time_of_the_runs_it_has(
    owner: Person, machine: Machine
) -> None:
    made = record_course_calibration(
        machine,
        person=owner,
        at=timezone.now(),
        course_length=Quantity(30.0, "m"),
        volumes_used=[Quantity(2.7, "L")] * 3,
    )

    assert newest_calibration(machine) == made
    assert made.told["volumes_used"] == ["2.7 L"] * 3


SLOPES = {
    **{f"{name}_{n}_{part}": "" for name in ("slope", "speed") for n in (1, 2, 3) for part in "01"},
    "level_speed_0": "4",
    "level_speed_1": "mph",
    "slope_1_0": "20",
    "slope_1_1": "%",
    "speed_1_0": "3.4",
    "speed_1_1": "mph",
}


def test_a_speed_on_a_slope_is_kept_and_reaches_the_plan(
    client: Client, crew: Person, machine: Machine, place: Property, mix: Mix
) -> None:
    made = newest_calibration(machine)
    assert made is not None
    client.force_login(crew)

    page = client.post(reverse("slope_speeds", args=[made.pk]), SLOPES, follow=True)

    assert "3.4 mph on 20 %" in page.content.decode()
    asked = request_for(
        crew, Asked(place=place, machine=machine, mix=mix), day=timezone.now().date()
    )["machine"]["calibration"]
    assert asked["slope_speeds"] == [{"slope": "20 %", "speed": "3.4 mph"}]
    assert asked["level_speed"] == "4 mph"


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"speed_1_0": ""}, "speed_1"),
        ({"level_speed_0": ""}, "level_speed"),
        ({"speed_1_0": "400"}, "speed_1"),
        ({"slope_1_0": "300"}, "slope_1"),
        ({"slope_2_0": "20", "slope_2_1": "%", "speed_2_0": "3", "speed_2_1": "mph"}, "slope_1"),
    ],
)
def test_a_speed_on_a_slope_that_cannot_be_right_is_refused_at_its_box(
    client: Client, crew: Person, machine: Machine, typed: dict[str, str], field: str
) -> None:
    made = newest_calibration(machine)
    assert made is not None
    client.force_login(crew)

    answer = client.post(reverse("slope_speeds", args=[made.pk]), SLOPES | typed)

    assert answer.status_code == 422
    assert answer.context["slopes"].errors[field]
    assert "slope_speeds" not in Calibration.objects.get(pk=made.pk).told


def test_speeds_on_slopes_that_are_emptied_are_forgotten(
    client: Client, crew: Person, machine: Machine
) -> None:
    made = newest_calibration(machine)
    assert made is not None
    client.force_login(crew)
    address = reverse("slope_speeds", args=[made.pk])
    client.post(address, SLOPES)
    emptied = SLOPES | {"slope_1_0": "", "speed_1_0": ""}

    assert client.post(address, emptied).status_code == 302

    assert "slope_speeds" not in Calibration.objects.get(pk=made.pk).told


def test_a_stranger_notes_no_speed(client: Client, stranger: Person, machine: Machine) -> None:
    made = newest_calibration(machine)
    assert made is not None
    client.force_login(stranger)

    assert client.post(reverse("slope_speeds", args=[made.pk]), SLOPES).status_code == 404


def test_work_on_a_past_day_goes_by_the_calibration_that_held_then(
    crew: Person, machine: Machine, place: Property, mix: Mix
) -> None:
    newest = newest_calibration(machine)
    assert newest is not None
    made = record_course_calibration(
        machine,
        person=crew,
        at=newest.done_at - timedelta(days=30),
        course_length=Quantity(100.0, "ft"),
        volumes_used=[Quantity(volume, "gal") for volume in (0.6, 0.6, 0.6)],
    )
    then, before = (newest.done_at.date() - timedelta(days=days) for days in (10, 60))

    asked = request_for(crew, Asked(place=place, machine=machine, mix=mix, on=then), day=then)

    assert asked["machine"]["calibration"]["volumes_used"] == ["0.6 gal"] * 3
    assert newest_calibration(machine, on=newest.done_at.date()) == newest
    # Before the first of all nothing held: the plan goes by it and says that it is later.
    asked = request_for(crew, Asked(place=place, machine=machine, mix=mix, on=before), day=before)
    assert newest_calibration(machine, on=before) == made
    assert "calibration_age_unknown" in {each["code"] for each in plan_for(asked)["warnings"]}


def test_the_time_of_a_calibration_is_told_in_the_zone_of_the_firm(
    client: Client, crew: Person, machine: Machine, place: Property
) -> None:
    made = newest_calibration(machine)
    assert made is not None
    made.done_at = datetime(2026, 4, 6, 12, 40, tzinfo=UTC)
    made.save()
    place.time_zone = "America/Chicago"
    place.save()
    client.force_login(crew)

    for address in (made.get_absolute_url(), machine.get_absolute_url()):
        assert "Apr 6, 2026, 07:40 CDT" in client.get(address).content.decode()
