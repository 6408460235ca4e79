"""Plants one by one, from the label to the loads."""

import json

import pytest
from django.test import Client
from django.urls import reverse

from planner.core.answers import answer
from planner.models import LabelLine, Machine, Mix, Product
from planner.services.labels import keep_label
from planner.services.mixes import keep_mix
from properties.core.errors import Refused
from properties.core.units import Quantity
from properties.models import Firm, Person, Property
from properties.services.outlines import save_drawing
from tests.places import SAVED_AT, collection, feature
from tests.work import DONE_AT

SPRAY = {"spray_each_0": "0.5", "spray_each_1": "gal"}


@pytest.fixture
def drench(firm: Firm, owner: Person) -> Product:
    """An invented drench with a line of its label for each plant."""
    return keep_label(
        Product(firm=firm, name="Invented drench", entered_by=owner, entered_at=DONE_AT),
        setbacks={},
        lines=[
            LabelLine(
                position=1,
                target="Scale on shrubs",
                use="per_plant",
                rate_min=Quantity(1.5, "fl oz"),
                rate_max=Quantity(2.5, "fl oz"),
            )
        ],
    )


@pytest.fixture
def shrub_mix(firm: Firm, drench: Product) -> Mix:
    """Two fluid ounces of it for each plant."""
    return keep_mix(
        Mix(firm=firm, name="Shrubs"),
        parts=[(drench, Quantity(2.0, "fl oz"))],
        lines=[drench.lines.get()],
    )


def question(machine: Machine, mix: Mix, **more: str) -> dict[str, str]:
    return {"machine": str(machine.pk), "mix": str(mix.pk), **SPRAY, **more}


def test_a_number_of_plants_is_planned_with_its_loads_and_workings(
    client: Client, crew: Person, hand_gun: Machine, shrub_mix: Mix
) -> None:
    client.force_login(crew)

    page = client.get(reverse("plants"), question(hand_gun, shrub_mix, count="12"))

    assert page.status_code == 200
    # 12 × 2 fl oz in 12 × 0.5 gal.
    amount = page.context["figures"]["products[0].amount"].result
    assert (amount.value, amount.unit) == (pytest.approx(24), "fl oz")
    assert page.context["plants"]["spray"] == {"value": pytest.approx(6), "unit": "gal"}
    assert b"12 plants" in page.content


def test_plants_are_counted_on_the_drawing_of_a_property(
    client: Client, owner: Person, place: Property, hand_gun: Machine, shrub_mix: Mix
) -> None:
    client.force_login(owner)
    elms = [
        feature(f"elm-{n}", "tree_or_shrub", {"type": "Point", "coordinates": [-90, 40 + n / 1e5]})
        for n in range(3)
    ]
    save_drawing(place, person=owner, at=SAVED_AT, base=1, why="", collection=collection(*elms))
    asked = question(hand_gun, shrub_mix, place=str(place.pk))

    page = client.get(reverse("plants"), asked)
    written = json.loads(client.get(reverse("export_plants"), asked).content)

    assert page.context["plants"]["count"] == 3
    assert answer(written) == page.context["plan"]


@pytest.mark.parametrize(
    ("more", "field"),
    [({}, "count"), ({"count": "0"}, "count"), ({"count": "3", "spray_each_0": "0"}, "spray_each")],
)
def test_what_is_missing_stands_beside_its_field_and_nothing_typed_is_lost(
    client: Client,
    owner: Person,
    hand_gun: Machine,
    shrub_mix: Mix,
    more: dict[str, str],
    field: str,
) -> None:
    client.force_login(owner)
    asked = question(hand_gun, shrub_mix) | {"wind_speed_0": "6", "wind_speed_1": "mph"} | more

    page = client.get(reverse("plants"), asked)
    file = client.get(reverse("export_plants"), asked)

    assert (page.status_code, file.status_code) == (422, 422)
    assert page.context["form"].errors.keys() == {field}
    assert b'value="6"' in page.content


def test_a_mix_for_turf_is_refused_for_plants_and_the_other_way(
    client: Client,
    owner: Person,
    place: Property,
    hand_gun: Machine,
    mix: Mix,
    shrub_mix: Mix,
) -> None:
    client.force_login(owner)

    plants = client.get(reverse("plants"), question(hand_gun, mix, count="12"))
    turf = client.get(
        reverse("plan", args=[place.pk]), {"machine": hand_gun.pk, "mix": shrub_mix.pk}
    )

    assert (plants.status_code, turf.status_code) == (422, 422)
    assert b"is for an area, and plants get an amount each" in plants.content
    assert b"nobody says how many plants there are" in turf.content


def test_an_amount_needs_the_line_of_the_label_for_each_plant(
    firm: Firm, drench: Product, product: Product
) -> None:
    each, by_area = Quantity(2.0, "fl oz"), Quantity(1.0, "fl oz/1000 sq ft")
    new, line = Mix(firm=firm, name="Shrubs"), drench.lines.get()

    with pytest.raises(Refused, match="does not say what it is for"):
        keep_mix(new, parts=[(drench, each)])
    with pytest.raises(Refused, match="is for an area, and another product"):
        keep_mix(new, parts=[(drench, each), (product, by_area)], lines=[line, None])


def test_the_page_of_a_mix_for_plants_leads_to_them(
    client: Client, owner: Person, mix: Mix, shrub_mix: Mix
) -> None:
    client.force_login(owner)
    to_plants = f"{reverse('plants')}?mix={shrub_mix.pk}".encode()

    assert to_plants in client.get(shrub_mix.get_absolute_url()).content
    assert b"for single plants" not in client.get(mix.get_absolute_url()).content
