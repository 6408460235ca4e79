"""Plans that were kept: frozen whatever changes, and plain about what differs today."""

import json
import re
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.test import Client
from django.urls import reverse

from planner.models import Calibration, KeptPlan, Machine, Mix, Product, TankUse
from planner.services.calibrations import record_course_calibration
from planner.services.labels import keep_label
from planner.services.mixes import keep_mix
from properties.core.units import Quantity
from properties.models import Person, Property, SetbackRule
from properties.services.outlines import save_drawing
from tests.places import collection, feature, rectangle, small_lot
from tests.work import DONE_AT, KEPT_AT

SAME_TODAY = "Drawing, label, mix, calibration, machine and rules are the same today."


def _keep(client: Client, place: Property, question: str, **typed: str) -> Any:
    return client.post(f"{reverse('keep_plan', args=[place.pk])}?{question}", typed)


def _question(machine: Machine, mix: Mix, /, **more: str) -> str:
    asked = {"machine": machine.pk, "mix": mix.pk} | more
    return "&".join(f"{name}={value}" for name, value in asked.items())


def _draw_smaller(place: Property, person: Person) -> None:
    lawn = feature("lawn", "turf", rectangle(0, 0, 200, 200), name="Lawn")
    save_drawing(place, person=person, at=KEPT_AT, base=1, why="", collection=collection(lawn))


def _text(client: Client, kept: KeptPlan) -> str:
    return client.get(kept.get_absolute_url()).content.decode()


def _figures(text: str) -> dict[str, str]:
    return dict(re.findall(r'data-figure="([^"]+)" data-value="([^"]+)"', text))


@pytest.mark.parametrize("role", ["owner", "office", "crew"])
def test_everybody_of_the_firm_may_keep_the_plan_they_see(
    request: pytest.FixtureRequest,
    client: Client,
    place: Property,
    machine: Machine,
    mix: Mix,
    role: str,
) -> None:
    person = request.getfixturevalue(role)
    client.force_login(person)
    question = _question(machine, mix, wind_speed_0="6", wind_speed_1="mph", wind_from="W")
    seen = client.get(f"{reverse('plan', args=[place.pk])}?{question}")

    answer = _keep(client, place, question, note="For Wednesday")

    kept = KeptPlan.objects.get()
    assert answer["Location"] == kept.get_absolute_url()
    assert kept.plan == seen.context["plan"]
    assert (kept.made_by, kept.note) == (person, "For Wednesday")
    assert (kept.drawing_number, kept.question) == (1, question)
    assert (kept.machine_name, kept.mix_name) == ("Ride-on", "Broadleaf weeds")


def test_a_kept_plan_is_what_the_command_computes_of_its_request(
    kept_plan: KeptPlan, tmp_path: Path
) -> None:
    kept_plan.refresh_from_db()
    (tmp_path / "request.json").write_text(json.dumps(kept_plan.request), encoding="utf-8")
    printed = StringIO()

    call_command("plan", str(tmp_path / "request.json"), stdout=printed)

    assert json.loads(printed.getvalue()) == kept_plan.plan


def test_the_page_shows_the_frozen_figures_to_the_last_digit(
    client: Client, owner: Person, kept_plan: KeptPlan
) -> None:
    client.force_login(owner)

    shown = _figures(_text(client, kept_plan))

    worked = {
        entry["figure"]: repr(entry["result"]["value"]) for entry in kept_plan.plan["working"]
    }
    assert shown.keys() >= {"treatable_area", "carrier_volume", "loads[0].volume"}
    assert shown == {key: worked[key] for key in shown}


def test_nothing_of_what_the_browser_says_of_figures_is_kept(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    client.force_login(owner)
    question = _question(machine, mix)

    _keep(
        client,
        place,
        f"{question}&plan=x&next=//elsewhere.example",
        plan="{}",
        request="{}",
        drawing_number="7",
        made_at="2020-01-01",
    )

    kept = KeptPlan.objects.get()
    assert kept.question == question
    assert kept.drawing_number == 1
    assert kept.plan["treatable_area"]["value"] > 1000


def test_an_unchanged_place_is_said_to_be_the_same_today(
    client: Client, crew: Person, kept_plan: KeptPlan
) -> None:
    client.force_login(crew)

    text = _text(client, kept_plan)

    assert SAME_TODAY in text
    assert "Made Apr 8, 2026, 07:15 CDT by Olive, with drawing 1." in text
    assert "“For Wednesday”" in text
    # Asked again, the same question, wind and all.
    assert "wind_speed_0=6&amp;wind_speed_1=mph&amp;wind_from=W" in text


def test_another_drawing_leaves_the_plan_as_it_was_and_is_said(
    client: Client, owner: Person, place: Property, kept_plan: KeptPlan
) -> None:
    client.force_login(owner)
    before = _figures(_text(client, kept_plan))

    _draw_smaller(place, owner)

    page = client.get(kept_plan.get_absolute_url())
    text = page.content.decode()
    assert _figures(text) == before
    assert [shape["id"] for shape in page.context["map_json"]["collection"]["features"]] == [
        shape["id"] for shape in small_lot()["features"]
    ]
    assert "Made with drawing 1; the drawing is now 2" in text
    compared = f"{reverse('history', args=[place.pk])}?from=1&amp;to=2"
    assert compared in text
    assert client.get(compared.replace("&amp;", "&")).status_code == 200
    listed = client.get(reverse("kept_plans", args=[place.pk])).content.decode()
    assert "not the present one" in listed


def test_another_label_calibration_rule_and_tank_are_each_said(
    client: Client,
    owner: Person,
    kept_plan: KeptPlan,
    machine: Machine,
    product: Product,
) -> None:
    product.rate_max = Quantity(1.1, "fl oz/1000 sq ft")
    keep_label(product, setbacks={"pond": Quantity(30.0, "ft")})
    record_course_calibration(
        machine,
        person=owner,
        at=KEPT_AT,
        course_length=Quantity(100.0, "ft"),
        volumes_used=[Quantity(volume, "gal") for volume in (0.80, 0.81, 0.79)],
    )
    machine.tanks.filter(position=2).delete()
    SetbackRule.objects.filter(kind="well").update(distance=Quantity(99.0, "ft"))
    client.force_login(owner)
    before = kept_plan.plan

    text = _text(client, kept_plan)

    for words in (
        "Invented broadleaf herbicide, rate max: was 1 fl oz/1000 sq ft, now 1.1 fl oz/1000 sq ft",
        "Invented broadleaf herbicide, setbacks, pond: was 25 ft, now 30 ft",
        "volumes used: was 0.72 gal, 0.7 gal, 0.71 gal, now 0.8 gal, 0.81 gal, 0.79 gal",
        "tanks: was 25 gal, 12 gal, now 25 gal",
        ", now 99 ft",
    ):
        assert words in text
    assert SAME_TODAY not in text
    assert "the drawing is now" not in text
    kept_plan.refresh_from_db()
    assert kept_plan.plan == before


def test_a_product_that_left_the_mix_and_one_that_came_are_said(
    client: Client, owner: Person, kept_plan: KeptPlan, mix: Mix, product: Product
) -> None:
    other = keep_label(
        Product(firm=mix.firm, name="Invented marker dye", entered_by=owner, entered_at=DONE_AT),
        setbacks={},
    )
    keep_mix(mix, parts=[(other, Quantity(0.1, "%"))])
    client.force_login(owner)

    text = _text(client, kept_plan)

    assert "Invented marker dye, rate: now 0.1 %, not given then" in text
    assert "Invented surfactant, rate: was 0.25 %, not given now" in text


def test_a_label_that_nobody_else_checked_is_told_on_a_kept_plan(
    client: Client, owner: Person, kept_plan: KeptPlan
) -> None:
    type(owner.firm).objects.update(labels_need_check=True)
    client.force_login(owner)

    text = _text(client, kept_plan)

    assert "nobody else has compared it yet" in text
    assert "are the same today" not in text


def test_what_would_refuse_a_kept_plan_today_is_told(
    client: Client, owner: Person, kept_plan: KeptPlan, machine: Machine
) -> None:
    TankUse.objects.create(
        machine=machine,
        tank=1,
        held=["Invented total herbicide"],
        kills_turf=True,
        mixed_at=KEPT_AT,
        mixed_by=owner,
    )
    client.force_login(owner)

    text = _text(client, kept_plan)

    assert "It would be refused today: Tank 1 of the machine last held" in text


def test_a_plan_outlives_its_machine_its_mix_and_whoever_made_it(
    client: Client, owner: Person, office: Person, kept_plan: KeptPlan
) -> None:
    KeptPlan.objects.update(made_by=office)
    office.delete()
    Machine.objects.all().delete()
    Mix.objects.all().delete()
    client.force_login(owner)

    text = _text(client, kept_plan)

    assert "Ride-on · Broadleaf weeds" in text
    assert "The same question cannot be planned today" in text
    assert "by somebody who has left" in text
    assert "Plan again" not in text


def test_a_reader_of_other_units_sees_the_plan_as_it_was_made(
    client: Client, owner: Person, kept_plan: KeptPlan
) -> None:
    owner.units = "metric"
    owner.save()
    client.force_login(owner)

    text = _text(client, kept_plan)

    assert SAME_TODAY in text
    assert 'data-unit="gal"' in text
    assert 'data-unit="L"' not in text


@pytest.mark.parametrize(
    "changed",
    [
        {"machine": "999"},
        {"mix": "x"},
        {"wind_speed_0": "strong"},
        {"wind_from": "up"},
        {"machine": "1%00"},
        {"machine": ""},
    ],
)
def test_a_wrong_question_keeps_nothing_and_says_why(
    client: Client,
    owner: Person,
    place: Property,
    machine: Machine,
    mix: Mix,
    changed: dict[str, str],
) -> None:
    client.force_login(owner)
    question = _question(machine, mix, **({"wind_speed_1": "mph"} | changed))

    answer = _keep(client, place, question, note="Typed once")

    assert answer.status_code == 422
    assert b"Not kept yet" in answer.content
    assert b'value="Typed once"' in answer.content
    assert not KeptPlan.objects.exists()


def test_what_cannot_be_planned_is_not_kept(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    Calibration.objects.all().delete()
    client.force_login(owner)

    answer = _keep(client, place, _question(machine, mix))

    assert answer.status_code == 422
    assert b"has no calibration at its present swath" in answer.content
    assert not KeptPlan.objects.exists()


def test_a_property_without_turf_is_not_planned_and_not_kept(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    pond = collection(feature("pond", "pond", rectangle(0, 0, 50, 50)))
    save_drawing(place, person=owner, at=KEPT_AT, base=1, why="", collection=pond)
    client.force_login(owner)

    answer = _keep(client, place, _question(machine, mix))

    assert answer.status_code == 422
    assert b"turf" in answer.content
    assert not KeptPlan.objects.exists()


def test_a_note_too_long_is_said_beside_it(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    client.force_login(owner)

    answer = _keep(client, place, _question(machine, mix), note="n" * 301)

    assert answer.status_code == 422
    assert "note" in answer.context["form"].errors
    assert not KeptPlan.objects.exists()


def test_a_stranger_can_keep_nothing_here_and_with_nothing_of_ours(
    client: Client, stranger: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    client.force_login(stranger)

    assert _keep(client, place, _question(machine, mix)).status_code == 404
    assert not KeptPlan.objects.exists()


def test_keeping_needs_to_be_sent_and_signed_in(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    assert _keep(client, place, _question(machine, mix)).status_code == 302
    assert not KeptPlan.objects.exists()
    client.force_login(owner)

    assert client.get(reverse("keep_plan", args=[place.pk])).status_code == 405


def test_the_list_tells_each_plan_without_fetching_what_is_frozen(
    client: Client,
    owner: Person,
    place: Property,
    kept_plan: KeptPlan,
    django_assert_num_queries: Any,
) -> None:
    for n in range(30):
        kept_plan.pk, kept_plan.note = None, f"Round {n}"
        kept_plan.save()
    client.force_login(owner)

    with django_assert_num_queries(6) as asked:
        page = client.get(reverse("kept_plans", args=[place.pk]))

    text = page.content.decode()
    assert len(page.context["page"].object_list) == 25
    assert "Apr 8, 2026, 07:15 CDT" in text
    treatable = kept_plan.plan["treatable_area"]["value"]
    assert f"{treatable:,.0f} sq ft treatable" in text
    assert not any('"planner_keptplan"."request"' in query["sql"] for query in asked)


def test_a_property_without_kept_plans_says_how_to_keep_one(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)

    assert (
        b"No plan has been kept yet" in client.get(reverse("kept_plans", args=[place.pk])).content
    )


def test_the_plan_page_offers_to_keep_only_what_was_planned(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    client.force_login(owner)
    address = reverse("plan", args=[place.pk])

    assert b"Keep this plan" not in client.get(address).content
    asked = client.get(f"{address}?{_question(machine, mix)}").content.decode()
    assert f'action="{reverse("keep_plan", args=[place.pk])}?machine={machine.pk}&amp;mix=' in asked


def test_a_plan_is_kept_with_what_is_in_the_tank(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    client.force_login(owner)
    tank = {"tank_tool": "machine", "tank_spray_0": "5", "tank_spray_1": "gal"}
    for part in mix.parts.all():
        tank |= {
            f"tank_product_{part.product_id}_0": "1.5",
            f"tank_product_{part.product_id}_1": "fl+oz",
        }
    question = _question(machine, mix, **tank)

    _keep(client, place, f"{question}&anything=else")

    kept = KeptPlan.objects.get()
    assert kept.plan["surplus"]["spray_in_tank"] == {"value": 5.0, "unit": "gal"}
    assert len(kept.request["tank_now"]["products"]) == 2
    assert "anything" not in kept.question
    assert SAME_TODAY in _text(client, kept)
