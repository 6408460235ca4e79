"""A spreader from its first catch test to a plan, as a person types it: the park by the pond.

Worked by hand from the job's inputs; the same job is planned by request in
``planner/core/test_spread_scenario.py``. Every firm, place and product is invented.
"""

from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from planner.models import (
    CalibrationRule,
    CatchTest,
    Machine,
    Mix,
    NutrientLimit,
    Product,
    SoilTest,
)
from planner.selectors.applications import sprayed_parts_of
from planner.selectors.plans import plan_for
from planner.services.applications import Entered, record_sprayed, say_known_since
from planner.services.plans import keep_plan
from properties.core.units import Quantity
from properties.models import Person, Property, SetbackRule
from properties.services.outlines import save_drawing
from properties.services.places import add_property
from tests.places import SAVED_AT, facts
from tests.planner.core.scenarios import RUSHMERE

Json = dict[str, Any]
AREA = 2e-4

SPREADER = {
    "name": "Push spreader",
    "kind": "rotary_spreader",
    "swath_0": "4",
    "swath_1": "m",
    "hopper_0": "20",
    "hopper_1": "kg",
    "times_over": "2",
    "deflector": "on",
    "width_0": "",
    "width_1": "m",
    "set_up_note": "walking pace",
}
FEED = {
    "name": "Feed G-5 (invented)",
    "formulation": "G",
    "grade": "18-3-9",
    "slow_release_0": "40",
    "slow_release_1": "%",
    "bag_0": "20",
    "bag_1": "kg",
    "is_invented": "on",
}
BY_NITROGEN = {"name": "Late feed", "rate_1_0": "3.6", "rate_1_1": "g/m2", "of_1": "N"}
LIMITS = [
    ("N", "application", "4.4", ""),
    ("soluble N", "application", "2.2", ""),
    ("N", "year", "12", ""),
    ("P2O5", "application", "0", "on"),
]
RUNS = [("6.5", "1.12"), ("6.1", "1.03"), ("6", "1.01")]


def kept(client: Client, name: str, typed: Json, *, args: list[int] | None = None) -> None:
    """Send a form that must be taken."""
    answer = client.post(reverse(name, args=args or []), typed)
    assert answer.status_code == 302, answer.context["form"].errors


def weighed_back(client: Client, machine: Machine, setting: str, kilograms: str) -> None:
    """One run over 100 m² with the feed."""
    typed = {
        "product": Product.objects.get().pk,
        "setting": setting,
        "area_0": "100",
        "area_1": "m2",
        "used_1_0": kilograms,
        "used_1_1": "kg",
    }
    kept(client, "catch_test", typed, args=[machine.pk])


@pytest.fixture
def priya(client: Client, owner: Person) -> Person:
    """The office of the firm, in metric, signed in, with the local distances as its rules."""
    owner.units = "metric"
    owner.save()
    SetbackRule.objects.filter(firm=owner.firm).delete()
    client.force_login(owner)
    for method, distance in (("granular_open", "8"), ("granular_deflector", "3")):
        rule = {"kind": "pond", "method": method, "source": "Brackenmere (invented)"}
        rule |= {"distance_0": distance, "distance_1": "m", "from_on": "2026-01-01"}
        kept(client, "new_rule", rule)
    return owner


@pytest.fixture
def park(priya: Person) -> Property:
    place = add_property(firm=priya.firm, facts=facts(name="Brackenmere Park"))
    save_drawing(place, person=priya, at=SAVED_AT, base=0, why="", collection=RUSHMERE["property"])
    return place


@pytest.fixture
def spreader(client: Client, priya: Person) -> Machine:
    kept(client, "new_spreader", SPREADER)
    return Machine.objects.get()


@pytest.fixture
def mix(client: Client, priya: Person) -> Mix:
    kept(client, "new_label", FEED)
    kept(client, "new_mix", BY_NITROGEN | {"product_1": Product.objects.get().pk})
    return Mix.objects.get()


@pytest.fixture
def rules(client: Client, priya: Person, park: Property) -> None:
    for nutrient, per, at_most, unless in LIMITS:
        typed = {"nutrient": nutrient, "per": per, "at_most_0": at_most, "at_most_1": "g/m2"}
        typed |= {"source": "Brackenmere (invented)", "from_on": "2026-01-01"}
        kept(client, "new_nutrient_limit", typed | ({"unless_soil_test": unless} if unless else {}))
    test = {"taken_on": "2025-03-14", "valid_until": "2099-03-13", "source": "Invented lab 7"}
    kept(client, "new_soil_test", test, args=[park.pk])


def planned(client: Client, park: Property, machine: Machine, mix: Mix, **more: str) -> Any:
    question: Json = {"machine": machine.pk, "mix": mix.pk, "had_n_0": "7.8", "had_n_1": "g/m2"}
    return client.get(reverse("plan", args=[park.pk]), question | more)


def codes(page: Any) -> list[str]:
    return [refusal["code"] for refusal in page.context["plan"]["refusals"]]


@pytest.mark.usefixtures("rules")
def test_the_park_is_planned_from_the_forms_to_the_bags(
    client: Client, park: Property, spreader: Machine, mix: Mix
) -> None:
    refused = []
    for setting, kilograms in RUNS:
        weighed_back(client, spreader, setting, kilograms)
        refused.append(codes(planned(client, park, spreader, mix)))
    page = planned(client, park, spreader, mix)

    plan = page.context["plan"]
    assert refused == [["spread_off_target", "nutrient_over_limit"], ["nutrient_over_limit"], []]
    assert plan["treatable_area"]["value"] == pytest.approx(2240, rel=AREA)
    assert plan["products"][0]["amount"]["value"] == pytest.approx(45.25, abs=0.01)
    assert plan["spread"]["bags"]["count"] == 3
    assert plan["spread"]["bags"]["left_over"]["value"] == pytest.approx(14.75, abs=0.01)
    for words in (b"hopper", b"45.2", b"22.62", b"14.75", b"at right angles", b"Sweep or blow"):
        assert words in page.content
    for words in (b"What goes into the tank", b"carrier_volume", b"fl oz per"):
        assert words not in page.content


@pytest.mark.usefixtures("rules")
def test_the_first_pass_stops_the_second_on_the_page(
    client: Client, park: Property, spreader: Machine, mix: Mix
) -> None:
    weighed_back(client, spreader, "6", "1.01")

    page = planned(client, park, spreader, mix, first_pass_0="24.0", first_pass_1="kg")

    assert codes(page) == ["first_pass_off"]
    assert b"Left for the second pass" in page.content


def test_without_its_deflector_the_plan_changes(
    client: Client, park: Property, spreader: Machine, mix: Mix
) -> None:
    weighed_back(client, spreader, "6", "1.01")
    bare = {name: value for name, value in SPREADER.items() if name != "deflector"}
    kept(client, "edit_spreader", bare, args=[spreader.pk])

    plan = planned(client, park, spreader, mix).context["plan"]

    assert plan["treatable_area"]["value"] == pytest.approx(1890, rel=AREA)


@pytest.mark.usefixtures("rules")
def test_a_year_that_nobody_told_is_unknown_on_the_page(
    client: Client, park: Property, spreader: Machine, mix: Mix
) -> None:
    weighed_back(client, spreader, "6", "1.01")

    assert codes(planned(client, park, spreader, mix, had_n_0="")) == ["nutrient_so_far_unknown"]


def test_a_product_without_a_catch_test_has_no_plan(
    client: Client, park: Property, spreader: Machine, mix: Mix
) -> None:
    page = planned(client, park, spreader, mix)

    assert page.status_code == 422
    assert b"no catch test with Feed G-5" in page.content


def test_another_swath_voids_the_catch_tests(
    client: Client, park: Property, spreader: Machine, mix: Mix
) -> None:
    weighed_back(client, spreader, "6", "1.01")
    kept(client, "edit_spreader", SPREADER | {"swath_0": "5"}, args=[spreader.pk])

    assert planned(client, park, spreader, mix).status_code == 422
    assert b"no catch test at the present swath" in client.get(spreader.get_absolute_url()).content


@pytest.mark.usefixtures("rules")
def test_the_request_as_a_file_gives_the_same_plan(
    client: Client, park: Property, spreader: Machine, mix: Mix
) -> None:
    weighed_back(client, spreader, "6", "1.01")
    page = planned(client, park, spreader, mix)
    address = reverse("export_request", args=[park.pk])

    file = client.get(address, page.wsgi_request.GET)

    assert plan_for(file.json()) == page.context["plan"]


def test_the_page_of_a_spreader_has_its_own_table_of_settings(
    client: Client, spreader: Machine, mix: Mix
) -> None:
    for setting, kilograms in RUNS:
        weighed_back(client, spreader, setting, kilograms)

    page = client.get(spreader.get_absolute_url())

    (sheet,) = page.context["sheets"]
    assert [row.setting for row in sheet.settings] == [6, 6.1, 6.5]
    assert [row.stands for row in sheet.settings] == [True, False, False]
    assert sheet.settings[0].rate.value == pytest.approx(10.1)


def test_a_course_times_the_swath_is_the_ground_of_a_run(
    client: Client, spreader: Machine, mix: Mix
) -> None:
    typed = {"product": Product.objects.get().pk, "setting": "6", "used_1_0": "1"}
    typed |= {"used_1_1": "kg", "course_length_0": "25", "course_length_1": "m"}

    kept(client, "catch_test", typed, args=[spreader.pk])

    assert CatchTest.objects.get().area.si == pytest.approx(100)


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"used_1_0": "0"}, "used_1", "above zero"),
        ({"used_1_0": "9000"}, "used_1", "cannot be right"),
        ({"area_0": ""}, "area", "ground of a run"),
        ({"course_length_0": "25"}, "course_length", "not both"),
        ({"setting": "M"}, "setting", "number"),
        ({"setting": "2000"}, "setting", "dial"),
    ],
)
def test_a_wrong_catch_test_is_said_beside_its_field_and_nothing_is_lost(
    client: Client, spreader: Machine, mix: Mix, typed: Json, field: str, words: str
) -> None:
    sent = {"product": Product.objects.get().pk, "setting": "6", "note": "north lawn"}
    sent |= {"area_0": "100", "area_1": "m2", "used_1_0": "1.01", "used_1_1": "kg"}
    sent |= {"course_length_1": "m"}

    answer = client.post(reverse("catch_test", args=[spreader.pk]), sent | typed)

    assert answer.status_code == 422
    assert words in " ".join(answer.context["form"].errors[field])
    assert b"north lawn" in answer.content
    assert not CatchTest.objects.exists()


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"kind": "drop_spreader"}, "deflector", "throws nothing aside"),
        ({"swath_0": "0"}, "swath", "above zero"),
        ({"hopper_0": "90000"}, "hopper", "cannot be right"),
        ({"kind": "boom_sprayer"}, "kind", "boom_sprayer"),
    ],
)
def test_a_wrong_spreader_is_said_beside_its_field(
    client: Client, owner: Person, typed: Json, field: str, words: str
) -> None:
    client.force_login(owner)

    answer = client.post(reverse("new_spreader"), SPREADER | typed)

    assert answer.status_code == 422
    assert words in " ".join(answer.context["form"].errors[field])
    assert not Machine.objects.exists()


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"grade": "60-60-60"}, "grade", "more than the whole bag"),
        ({"grade": "eighteen"}, "grade", "18-3-9"),
        ({"slow_release_0": "120"}, "slow_release", "between 0 % and 100 %"),
        ({"bag_0": "0"}, "bag", "above zero"),
        ({"grade": ""}, "slow_release", "grade"),
    ],
)
def test_a_wrong_fertilizer_is_said_beside_its_field(
    client: Client, owner: Person, typed: Json, field: str, words: str
) -> None:
    client.force_login(owner)

    answer = client.post(reverse("new_label"), FEED | typed)

    assert answer.status_code == 422
    assert words in " ".join(answer.context["form"].errors[field])
    assert not Product.objects.exists()


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"rate_1_1": "L/ha"}, "rate_1", "weight per area"),
        ({"rate_1_0": "3600"}, "rate_1", "cannot be right"),
    ],
)
def test_a_wrong_rate_of_nitrogen_is_said_beside_its_field(
    client: Client, priya: Person, typed: Json, field: str, words: str
) -> None:
    kept(client, "new_label", FEED)
    sent = BY_NITROGEN | {"product_1": Product.objects.get().pk}

    answer = client.post(reverse("new_mix"), sent | typed)

    assert answer.status_code == 422
    assert words in " ".join(answer.context["form"].errors[field])
    assert not Mix.objects.exists()


@pytest.mark.parametrize(
    ("grade", "words"), [("0-0-22", "holds no N"), ("", "Copy the grade of the fertilizer")]
)
def test_nitrogen_must_be_in_the_product(
    client: Client, priya: Person, grade: str, words: str
) -> None:
    plain = {"name": "Plain (invented)", "formulation": "G", "grade": grade}
    kept(client, "new_label", plain)

    answer = client.post(reverse("new_mix"), BY_NITROGEN | {"product_1": Product.objects.get().pk})

    assert answer.status_code == 422
    assert words in " ".join(answer.context["form"].errors["of_1"])


def test_a_spreader_cannot_be_calibrated_with_water(client: Client, spreader: Machine) -> None:
    assert client.get(reverse("calibrate", args=[spreader.pk])).status_code == 404
    assert client.get(reverse("edit_machine", args=[spreader.pk])).status_code == 404


def test_a_sprayer_has_no_catch_test(client: Client, owner: Person, machine: Machine) -> None:
    client.force_login(owner)

    assert client.get(reverse("catch_test", args=[machine.pk])).status_code == 404
    assert client.get(reverse("edit_spreader", args=[machine.pk])).status_code == 404


def test_a_limit_that_ends_before_it_begins_is_refused(client: Client, priya: Person) -> None:
    typed = {"nutrient": "N", "per": "year", "at_most_0": "12", "at_most_1": "g/m2"}
    typed |= {"source": "Mere", "from_on": "2026-05-01", "to_on": "2026-04-01"}

    answer = client.post(reverse("new_nutrient_limit"), typed)

    assert answer.status_code == 422
    assert not NutrientLimit.objects.exists()


def test_slow_release_lifts_only_a_limit_on_the_nitrogen_of_each_application(
    client: Client, priya: Person, park: Property, spreader: Machine, mix: Mix
) -> None:
    weighed_back(client, spreader, "6", "1.01")
    typed = {"nutrient": "N", "per": "month", "at_most_0": "3", "at_most_1": "g/m2"}
    typed |= {"source": "Mere (invented)", "from_on": "2026-01-01"}
    typed |= {"least_slow_release_0": "40", "least_slow_release_1": "%"}

    refused = client.post(reverse("new_nutrient_limit"), typed)
    kept(client, "new_nutrient_limit", typed | {"per": "application"})

    assert refused.status_code == 422
    assert "one application only" in refused.content.decode()
    assert codes(planned(client, park, spreader, mix)) == []
    NutrientLimit.objects.update(least_slow_release=Quantity(41, "%"))
    assert codes(planned(client, park, spreader, mix)) == ["nutrient_over_limit"]


def test_a_limit_of_one_place_holds_there_and_nowhere_else(
    client: Client, priya: Person, park: Property, spreader: Machine, mix: Mix
) -> None:
    weighed_back(client, spreader, "6", "1.01")
    typed = {"nutrient": "N", "per": "application", "at_most_0": "3", "at_most_1": "g/m2"}
    typed |= {"source": "Mere (invented)", "from_on": "2026-01-01"}
    kept(client, "new_nutrient_limit_at", typed, args=[park.pk])
    other = add_property(firm=park.firm, facts=facts(name="Other"))
    save_drawing(other, person=priya, at=SAVED_AT, base=0, why="", collection=RUSHMERE["property"])

    assert codes(planned(client, park, spreader, mix)) == ["nutrient_over_limit"]
    assert codes(planned(client, other, spreader, mix)) == []


def test_a_soil_test_must_end_after_it_was_taken(
    client: Client, priya: Person, park: Property
) -> None:
    typed = {"taken_on": "2026-05-01", "valid_until": "2026-04-01", "source": "Lab"}

    answer = client.post(reverse("new_soil_test", args=[park.pk]), typed)

    assert answer.status_code == 422
    assert not SoilTest.objects.exists()


@pytest.mark.usefixtures("rules")
def test_what_was_put_down_before_counts_without_being_told(
    client: Client, priya: Person, park: Property, spreader: Machine, mix: Mix
) -> None:
    weighed_back(client, spreader, "6", "1.01")
    page = planned(client, park, spreader, mix)
    made = keep_plan(page.context["asked"], person=priya, at=timezone.now(), question="asked")
    (part,) = sprayed_parts_of(made)
    say_known_since(park, since=date(2020, 1, 1), entered=Entered(priya, timezone.now()))
    record_sprayed(
        made,
        applied_on=timezone.now().date(),
        rates={part.key: part.rate},
        entered=Entered(priya, timezone.now()),
    )

    plan = planned(client, park, spreader, mix, had_n_0="").context["plan"]

    yearly = next(each for each in plan["nutrient_limits"] if each["per"] == "year")
    assert yearly["so_far"]["value"] == pytest.approx(3.636, abs=0.002)
    assert plan["refusals"] == []


def test_a_spray_is_not_put_into_a_spreader(
    client: Client, park: Property, spreader: Machine
) -> None:
    kept(client, "new_label", {"name": "Invented spray", "formulation": "SL"})
    spray = {"name": "Spray", "rate_1_0": "1", "rate_1_1": "fl oz/1000 sq ft"}
    kept(client, "new_mix", spray | {"product_1": Product.objects.get().pk})

    page = planned(client, park, spreader, Mix.objects.get())

    assert page.status_code == 422
    assert b"is mixed with water" in page.content


def test_a_kept_plan_of_a_spreader_is_listed_and_shown(
    client: Client, park: Property, spreader: Machine, mix: Mix
) -> None:
    weighed_back(client, spreader, "6", "1.01")
    question = {"machine": spreader.pk, "mix": mix.pk}
    address = reverse("keep_plan", args=[park.pk], query=question)

    shown = client.post(address, {"note": "late feed"}, follow=True)

    assert shown.context["plan"]["spread"]["bags"]["count"] == 3
    assert b"goes back to store" in shown.content.lower()
    assert client.get(reverse("kept_plans", args=[park.pk])).status_code == 200


def test_a_catch_test_grows_old_by_the_rule_of_the_firm(
    client: Client, priya: Person, park: Property, spreader: Machine, mix: Mix
) -> None:
    CalibrationRule.objects.update_or_create(firm=priya.firm, defaults={"good_for_days": 60})
    weighed_back(client, spreader, "6", "1.01")
    fresh = codes(planned(client, park, spreader, mix))

    CatchTest.objects.update(done_at=timezone.now() - timedelta(days=70))

    assert fresh == []
    assert codes(planned(client, park, spreader, mix)) == ["calibration_expired"]
