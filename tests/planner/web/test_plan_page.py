"""The plan of a stored property, and that it is the command line's plan."""

import json
import re
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import call_command
from django.test import Client
from django.urls import reverse

from planner.models import Calibration, Machine, Mix, Product
from planner.services.mixes import keep_mix
from properties.core.units import Quantity
from properties.models import Person, Property, SetbackRule
from properties.services.outlines import save_drawing
from tests.places import SAVED_AT, collection, feature, rectangle


def _asked(machine: Machine, mix: Mix, **more: str) -> dict[str, str]:
    return {"machine": str(machine.pk), "mix": str(mix.pk)} | more


def _figures(page: str) -> dict[str, tuple[str, str]]:
    """Every figure on the page by its key, to the last digit, with its unit."""
    found = re.findall(r'data-figure="([^"]+)" data-value="([^"]+)" data-unit="([^"]+)"', page)
    return {key: (value, unit) for key, value, unit in found}


def test_the_page_shows_the_commands_plan_to_the_last_digit(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix, tmp_path: Path
) -> None:
    client.force_login(owner)
    asked = _asked(machine, mix, wind_speed_0="6", wind_speed_1="mph", wind_from="W")

    page = client.get(reverse("plan", args=[place.pk]), asked)
    request = client.get(reverse("export_request", args=[place.pk]), asked)
    (tmp_path / "request.json").write_bytes(request.content)
    printed = StringIO()
    call_command("plan", str(tmp_path / "request.json"), stdout=printed)
    plan = json.loads(printed.getvalue())

    assert page.context["plan"] == plan
    shown = _figures(page.content.decode())
    worked = {entry["figure"]: entry["result"] for entry in plan["working"]}
    assert shown.keys() >= {"treatable_area", "carrier_volume", "loads[0].volume"}
    assert shown == {
        key: (repr(worked[key]["value"]), worked[key]["unit"].replace("&", "&amp;"))
        for key in shown
    }


def test_every_number_of_a_load_opens_to_its_working(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    client.force_login(owner)

    page = client.get(reverse("plan", args=[place.pk]), _asked(machine, mix))

    shown = _figures(page.content.decode())
    for load, arranged in enumerate(page.context["loads"]):
        assert f"loads[{load}].volume" in shown
        for product in range(len(arranged["products"])):
            assert f"loads[{load}].products[{product}].amount_to_measure" in shown


def test_a_label_distance_stronger_than_the_firms_decides(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    client.force_login(owner)

    page = client.get(reverse("plan", args=[place.pk]), _asked(machine, mix))

    zones = {
        zone["properties"]["feature"]: zone["properties"]
        for zone in page.context["plan"]["no_spray"]["features"]
    }
    assert zones["pond"]["distance"]["value"] == pytest.approx(25)
    assert "label" in zones["pond"]["reason"]
    assert zones["roses"]["distance"]["value"] == pytest.approx(3)


def test_a_rate_over_the_label_is_refused_on_the_page(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix, product: Product
) -> None:
    keep_mix(mix, parts=[(product, Quantity(1.2, "fl oz/1000 sq ft"))])
    client.force_login(owner)

    page = client.get(reverse("plan", args=[place.pk]), _asked(machine, mix))

    assert page.status_code == 200
    assert b"Do not spray this plan" in page.content
    assert b'data-code="rate_above_label"' in page.content


def test_a_machine_without_a_calibration_leads_to_calibrating(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    Calibration.objects.all().delete()
    client.force_login(owner)

    page = client.get(reverse("plan", args=[place.pk]), _asked(machine, mix))

    assert page.status_code == 422
    assert b"has no calibration at its present swath" in page.content


def test_a_calibration_at_another_swath_is_not_used(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    machine.swath = Quantity(8.0, "ft")
    machine.save()
    client.force_login(owner)

    assert client.get(reverse("plan", args=[place.pk]), _asked(machine, mix)).status_code == 422


def test_a_property_without_turf_says_what_to_draw(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    pond = collection(feature("pond", "pond", rectangle(0, 0, 50, 50)))
    save_drawing(place, person=owner, at=SAVED_AT, base=1, why="", collection=pond)
    client.force_login(owner)

    page = client.get(reverse("plan", args=[place.pk]), _asked(machine, mix))

    assert page.status_code == 422
    assert b"turf" in page.content


@pytest.mark.parametrize(
    "changed",
    [
        {"machine": "999"},
        {"mix": "x"},
        {"wind_speed_0": "strong"},
        {"wind_speed_0": "-3"},
        {"wind_from": "up"},
    ],
)
def test_a_wrong_question_is_answered_in_words(
    client: Client,
    owner: Person,
    place: Property,
    machine: Machine,
    mix: Mix,
    changed: dict[str, str],
) -> None:
    client.force_login(owner)
    asked = _asked(machine, mix, wind_speed_0="6", wind_speed_1="mph") | changed

    page = client.get(reverse("plan", args=[place.pk]), asked)

    assert page.status_code == 422
    assert b"No plan yet" in page.content
    assert client.get(reverse("export_request", args=[place.pk]), asked).status_code == 422


def test_another_firms_machine_cannot_be_planned_with(
    client: Client, stranger: Person, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    machine.firm = stranger.firm
    machine.save()
    client.force_login(owner)

    assert client.get(reverse("plan", args=[place.pk]), _asked(machine, mix)).status_code == 422


def test_somebody_who_thinks_in_metres_gets_the_same_plan_in_litres(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    client.force_login(owner)
    address = reverse("plan", args=[place.pk])
    gallons = client.get(address, _asked(machine, mix)).context["plan"]["carrier_volume"]
    owner.units = "metric"
    owner.save()

    litres = client.get(address, _asked(machine, mix)).context["plan"]["carrier_volume"]

    assert litres["unit"] == "L"
    # 1 US gal = 3.785411784 L, NIST Handbook 44, Appendix C.
    assert litres["value"] == pytest.approx(gallons["value"] * 3.785411784, rel=1e-12)


def test_no_figure_is_missing_from_the_working(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    client.force_login(owner)

    context = client.get(reverse("plan", args=[place.pk]), _asked(machine, mix)).context

    grouped = [figure.key for _, group in context["working_groups"] for figure in group]
    assert sorted(grouped) == sorted(context["figures"])


def test_a_firms_rule_stricter_than_the_label_decides(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    rule = SetbackRule.objects.get(firm=owner.firm, kind="pond")
    rule.distance = Quantity(40.0, "ft")
    rule.save()
    client.force_login(owner)

    page = client.get(reverse("plan", args=[place.pk]), _asked(machine, mix))

    (pond,) = (
        zone["properties"]
        for zone in page.context["plan"]["no_spray"]["features"]
        if zone["properties"]["feature"] == "pond"
    )
    assert pond["distance"]["value"] == pytest.approx(40)
    assert owner.firm.name in pond["reason"]


def test_the_wind_moves_the_edge_where_a_rule_asks_for_more_downwind(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    SetbackRule.objects.filter(firm=owner.firm, kind="flower_bed").update(
        downwind=Quantity(20.0, "ft")
    )
    client.force_login(owner)
    address = reverse("plan", args=[place.pk])

    areas = {
        point: client.get(
            address, _asked(machine, mix, wind_speed_0="5", wind_speed_1="mph", wind_from=point)
        ).context["plan"]["treatable_area"]["value"]
        for point in ("", "E", "W", "N")
    }

    # Where the wind is not known the larger distance is kept all round: the safe side.
    assert areas[""] < min(areas["E"], areas["W"], areas["N"])
    # The distance is kept where the wind comes from. By the drawing there are 25 ft of turf east
    # of the bed, all of which 20 ft use, and 14 ft west of it, before the house.
    assert areas["W"] > areas["E"]


def test_over_the_firms_wind_the_plan_is_on_hold(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    client.force_login(owner)

    page = client.get(
        reverse("plan", args=[place.pk]),
        _asked(machine, mix, wind_speed_0="11", wind_speed_1="mph", wind_from="N"),
    )

    assert b'data-code="wind_over_firm"' in page.content
    assert b"Do not spray this plan" in page.content


def test_spots_are_told_on_the_page_and_planned_for_themselves(
    client: Client, owner: Person, place: Property, machine: Machine, mix: Mix
) -> None:
    client.force_login(owner)
    address, asked = reverse("plan", args=[place.pk]), _asked(machine, mix)
    area = {"spots_area_0": "400", "spots_area_1": "sq ft"}

    page = client.get(address, asked | area)
    twice = client.get(address, asked | area | {"spots_drawn": "on"})

    plan = page.context["plan"]
    assert plan["level_area"]["value"] == pytest.approx(400)
    assert "spots.share" in _figures(page.content.decode())
    assert twice.status_code == 422
    assert "Told twice" in twice.context["form"].errors["spots_area"][0]
