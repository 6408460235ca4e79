"""Entering what a place has had, striking it out, and what is refused on the way."""

from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from planner.models import (
    BlackoutRule,
    KeptPlan,
    KnownSince,
    NutrientLimit,
    PastApplication,
    Product,
    Seeding,
)
from planner.selectors.applications import past_of
from properties.core.units import parse_quantity
from properties.models import Person, Property
from tests.places import SOUTH, WEST


def today() -> Any:
    return timezone.now().date()


def typed(product: Product, /, **changed: Any) -> dict[str, Any]:
    return {
        "applied_on": today().isoformat(),
        "product": product.pk,
        "rate_0": "0.8",
        "rate_1": "fl oz/1000 sq ft",
        "refs": ["lawn"],
        "note": "by hand",
    } | changed


@pytest.fixture
def entering(client: Client, crew: Person, place: Property) -> Any:
    """Send the form of what was put down, as somebody of the crew."""
    client.force_login(crew)
    address = reverse("new_application", args=[place.pk])
    return lambda values: client.post(address, values)


def test_what_was_put_down_is_entered_by_the_crew(
    entering: Any, crew: Person, place: Property, product: Product
) -> None:
    answer = entering(typed(product))

    assert answer["Location"] == reverse("ground", args=[place.pk])
    row = PastApplication.objects.get()
    assert (row.product, row.where, row.entered_by, row.note) == (product, "Lawn", crew, "by hand")
    assert row.rate.to_the_last_digit == "0.8 fl oz/1000 sq ft"
    # As it was drawn: no corner is moved.
    assert row.geometry.equals(place.outlines.get(ref="lawn").geometry)


@pytest.mark.parametrize(
    ("changed", "field", "words"),
    [
        ({"applied_on": (today() + timedelta(days=2)).isoformat()}, "applied_on", "not come yet"),
        ({"applied_on": "2025-02-29"}, "applied_on", "There is no such day"),
        ({"applied_on": "0001-01-01"}, "applied_on", "cannot be right"),
        ({"rate_0": "0"}, "rate", "not above zero"),
        ({"rate_0": ""}, "rate", "Enter a number"),
        ({"rate_1": "oz wt/1000 sq ft"}, "rate", "cannot be compared"),
        ({"rate_0": "1e9"}, "rate", "cannot be right"),
        ({"refs": []}, "refs", "Choose the turf"),
        ({"refs": ["house"]}, "refs", "not one of the available choices"),
        ({"product": ""}, "product", "required"),
    ],
)
def test_a_slip_is_told_beside_its_field_and_nothing_typed_is_lost(
    entering: Any, product: Product, changed: dict[str, Any], field: str, words: str
) -> None:
    answer = entering(typed(product, **changed))

    assert answer.status_code == 422
    assert words in " ".join(answer.context["form"].errors[field])
    assert b"by hand" in answer.content
    assert not PastApplication.objects.exists()


def test_an_entry_is_struck_out_and_stays_to_be_read(
    client: Client, office: Person, place: Property, application: PastApplication
) -> None:
    client.force_login(office)
    address = reverse("strike_application", args=[application.pk])

    assert client.post(address, {"why": ""}).status_code == 422
    client.post(address, {"why": "Wrong lawn"})

    text = client.get(reverse("ground", args=[place.pk])).content.decode()
    assert "Struck out by Percy: Wrong lawn" in text
    assert past_of(place, today()) == {}
    again = client.post(address, {"why": "Twice"})
    assert "struck out already" in again.content.decode()


def test_what_was_sown_is_entered_and_struck_out(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)
    ahead = (today() + timedelta(days=20)).isoformat()

    client.post(
        reverse("new_seeding", args=[place.pk]), {"sown_on": ahead, "refs": ["lawn"], "note": ""}
    )

    row = Seeding.objects.get()
    assert past_of(place, today())["seedings"][0]["on"] == ahead
    client.post(reverse("strike_seeding", args=[row.pk]), {"why": "It rained"})
    assert past_of(place, today()) == {}


def test_from_when_the_past_is_known_is_said_by_somebody(
    client: Client, owner: Person, place: Property, application: PastApplication
) -> None:
    assert past_of(place, today())["history_since"] == application.applied_on.isoformat()
    client.force_login(owner)
    address = reverse("history_known", args=[place.pk])

    future = (today() + timedelta(days=2)).isoformat()
    assert client.post(address, {"since": future}).status_code == 422
    client.post(address, {"since": "2025-01-01"})

    assert KnownSince.objects.get().said_by == owner
    assert past_of(place, today())["history_since"] == "2025-01-01"


def test_a_plan_is_entered_as_sprayed_once_a_day(
    client: Client, crew: Person, kept_plan: KeptPlan
) -> None:
    client.force_login(crew)
    address = reverse("plan_sprayed", args=[kept_plan.pk])
    form = client.get(address).context["form"]
    values = {"applied_on": today().isoformat(), "note": ""}
    for key in form.keys:
        initial = form.fields[key].initial
        values |= {f"{key}_0": str(initial.value), f"{key}_1": initial.unit}

    first, second = client.post(address, values), client.post(address, values)

    assert (first.status_code, second.status_code) == (302, 422)
    assert "entered as sprayed on that day already" in second.content.decode()
    assert PastApplication.objects.count() == len(kept_plan.plan["products"])
    # A quarter percent of 0.71 gal/1,000 sq ft is 0.227 fl oz/1,000 sq ft.
    surfactant = PastApplication.objects.get(product_name="Invented surfactant")
    assert surfactant.rate.to("fl oz/1000 sq ft").value == pytest.approx(0.227, abs=0.02)


def test_a_plan_that_must_not_be_sprayed_is_not_entered(
    client: Client, crew: Person, kept_plan: KeptPlan
) -> None:
    kept_plan.plan["refusals"] = [{"code": "wind_over_label", "message": "Too much wind."}]
    kept_plan.save()
    client.force_login(crew)
    address = reverse("plan_sprayed", args=[kept_plan.pk])
    form = client.get(address).context["form"]
    values: dict[str, str] = {"applied_on": today().isoformat(), "note": ""}
    for key in form.keys:
        initial = form.fields[key].initial
        values |= {f"{key}_0": str(initial.value), f"{key}_1": initial.unit}

    answer = client.post(address, values)

    assert "must not be sprayed" in answer.content.decode()
    assert not PastApplication.objects.exists()
    assert "This was sprayed" not in client.get(kept_plan.get_absolute_url()).content.decode()


BLACKOUT = {
    "substance": "N",
    "product": "",
    "from_day_0": "12",
    "from_day_1": "01",
    "to_day_0": "03",
    "to_day_1": "01",
    "source": "Invented county",
}


def test_blackout_dates_are_kept_with_who_checked_them(
    client: Client, office: Person, place: Property, product: Product
) -> None:
    client.force_login(office)

    client.post(reverse("new_blackout"), BLACKOUT)
    client.post(
        reverse("new_blackout_at", args=[place.pk]),
        BLACKOUT | {"substance": "", "product": product.pk},
    )

    everywhere, here = BlackoutRule.objects.order_by("pk")
    assert (everywhere.checked_by, everywhere.only_at) == (office, None)
    assert (here.product, here.only_at) == (product, place)
    page = client.get(reverse("blackouts")).content.decode()
    assert "December 1 to March 1" in page
    told = past_of(place, today())["blackouts"]
    assert [rule["from"] for rule in told] == ["12-01", "12-01"]
    assert all("example" not in rule for rule in told)


@pytest.mark.parametrize(
    ("changed", "field", "words"),
    [
        ({"to_day_0": "02", "to_day_1": "29"}, "to_day", "Choose February 28 or March 1"),
        ({"to_day_0": "06", "to_day_1": "31"}, "to_day", "no June 31"),
        ({"from_day_0": "03", "from_day_1": "02"}, "to_day", "leaves no day of the year"),
        ({"substance": ""}, "__all__", "Name either a substance or a product"),
        ({"source": ""}, "source", "required"),
    ],
)
def test_a_slip_in_blackout_dates_is_told(
    client: Client, office: Person, changed: dict[str, str], field: str, words: str
) -> None:
    client.force_login(office)

    answer = client.post(reverse("new_blackout"), BLACKOUT | changed)

    assert answer.status_code == 422
    assert words in " ".join(answer.context["form"].errors[field])
    assert not BlackoutRule.objects.exists()


def test_a_lawn_that_is_gone_and_a_wild_spot_are_refused(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)
    address = reverse("ground", args=[place.pk])

    for asked in (
        {"lawn": "meadow"},
        {"lat": "91", "lon": "0"},
        {"on": "2026-02-29"},
        {"on": "0001-01-01"},
    ):
        assert client.get(address, asked).status_code == 422
    spot = {"lat": f"{SOUTH + 5e-5:.7f}", "lon": f"{WEST + 5e-5:.7f}"}
    assert client.get(address, spot).status_code == 200


def test_a_place_without_a_drawing_says_so_quietly(
    client: Client, owner: Person, place: Property
) -> None:
    place.outlines.all().delete()
    client.force_login(owner)

    assert client.get(reverse("ground", args=[place.pk])).status_code == 200


def test_a_spot_is_answered_for_its_nutrients_too(
    client: Client, owner: Person, place: Property, nutrient_limit: NutrientLimit
) -> None:
    granules = Product.objects.create(
        firm=owner.firm,
        name="Invented granules",
        formulation="G",
        grade="20-0-10",
        is_invented=True,
        entered_by=owner,
        entered_at=timezone.now(),
    )
    PastApplication.objects.create(
        property=place,
        where="Lawn",
        applied_on=today(),
        geometry=place.outlines.get(ref="lawn").geometry,
        product=granules,
        product_name=granules.name,
        rate=parse_quantity("5 lb/1000 sq ft"),
        entered_by=owner,
        entered_at=timezone.now(),
    )
    client.force_login(owner)

    answer = client.get(reverse("ground", args=[place.pk]), {"lawn": "lawn"})

    (piece,) = answer.context["answers"]
    told = {each["nutrient"]: each for each in piece["nutrients"]}
    assert told["N"]["terms"][0]["amount"]["value"] == pytest.approx(1.0)
    assert [each["per"] for each in told["N"]["limits"]] == [nutrient_limit.per]
    assert "Potash (K2O)" in answer.content.decode()
