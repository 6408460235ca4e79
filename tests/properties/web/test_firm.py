"""Pages about the firm: people, distances, map layers, one's own facts."""

from datetime import date

import pytest
from django.test import Client
from django.urls import reverse

from properties.core.units import Quantity
from properties.models import Person, Property, SetbackRule, TileLayer
from properties.selectors.rules import (
    default_claims_at,
    position_errors_of,
    setback_rules_on,
    wind_rule_of,
)


def test_a_new_firm_starts_with_examples_that_nobody_has_checked(owner: Person) -> None:
    rules = SetbackRule.objects.filter(firm=owner.firm)

    assert rules.count() == 11
    assert all("to be checked locally" in rule.source for rule in rules)
    assert not rules.filter(checked_by__isnull=False).exists()


def test_whoever_keeps_a_distance_has_checked_it(client: Client, office: Person) -> None:
    client.force_login(office)
    typed = {
        "kind": "pond",
        "distance_0": "40",
        "distance_1": "ft",
        "source": "County code 4.2",
        "from_on": "2026-05-01",
        "to_on": "",
    }

    answer = client.post(reverse("new_rule"), typed)

    rule = SetbackRule.objects.get(source="County code 4.2")
    assert answer.status_code == 302
    assert (str(rule.distance), rule.checked_by) == ("40 ft", office)


def test_the_newest_rule_of_a_day_holds(owner: Person) -> None:
    for first, source in [(date(2026, 4, 1), "spring"), (date(2026, 9, 1), "autumn")]:
        old = SetbackRule.objects.filter(firm=owner.firm, kind="pond").first()
        assert old is not None
        SetbackRule.objects.create(
            firm=owner.firm, kind="pond", distance=old.distance, source=source, from_on=first
        )

    def source_on(day: date) -> list[str]:
        return [r.source for r in setback_rules_on(owner.firm, day) if r.kind == "pond"]

    assert source_on(date(2026, 3, 31))[0].startswith("Example")
    assert source_on(date(2026, 8, 31)) == ["spring"]
    assert source_on(date(2026, 9, 1)) == ["autumn"]
    assert source_on(date(2026, 3, 1)) == []


def test_rules_for_two_ways_of_applying_hold_side_by_side(owner: Person, place: Property) -> None:
    any_way = SetbackRule.objects.get(firm=owner.firm, kind="flower_bed")
    SetbackRule.objects.create(
        firm=owner.firm,
        kind="flower_bed",
        method="boom",
        distance=Quantity(6.0, "ft"),
        source="Our boom",
        from_on=any_way.from_on,
    )

    holding = [r for r in setback_rules_on(owner.firm, date(2026, 5, 1)) if r.kind == "flower_bed"]
    strictest = default_claims_at(place, date(2026, 5, 1))["flower_bed"]

    assert {rule.method for rule in holding} == {"", "boom"}
    assert str(strictest.distance) == "6 ft"


OWN_RULE = {
    "kind": "pond",
    "distance_0": "60",
    "distance_1": "ft",
    "source": "Code of the town",
    "from_on": "2026-01-01",
    "to_on": "",
}


def test_a_rule_of_one_place_holds_there_and_nowhere_else(
    client: Client, office: Person, place: Property
) -> None:
    elsewhere = Property.objects.create(
        firm=place.firm,
        customer=place.customer,
        name="Elsewhere",
        address="1 Reed Lane",
        latitude=40,
        longitude=-90,
    )
    client.force_login(office)
    answer = client.post(reverse("new_rule_at", args=[place.pk]), OWN_RULE)
    twice = client.post(reverse("new_rule_at", args=[place.pk]), OWN_RULE)
    day = date(2026, 5, 1)

    assert answer.status_code == 302
    assert "such a rule" in str(twice.context["form"].errors)
    assert str(default_claims_at(place, day)["pond"].distance) == "60 ft"
    assert str(default_claims_at(elsewhere, day)["pond"].distance) != "60 ft"
    assert b"Code of the town" in client.get(place.get_absolute_url()).content
    assert b"Code of the town" not in client.get(elsewhere.get_absolute_url()).content
    assert place.name.encode() in client.get(reverse("rules")).content


def test_nobody_sets_a_rule_at_a_strangers_property(
    client: Client, stranger: Person, place: Property
) -> None:
    client.force_login(stranger)

    assert client.post(reverse("new_rule_at", args=[place.pk]), OWN_RULE).status_code == 404


WIND = {
    "half_angle_0": "60",
    "half_angle_1": "deg",
    "judged": "facing",
    "hold_above_0": "9",
    "hold_above_1": "mph",
    "calm_below_0": "3",
    "calm_below_1": "mph",
    "source": "Our own rule",
}


def test_the_rule_of_wind_is_kept_under_a_name(client: Client, office: Person) -> None:
    client.force_login(office)

    client.post(reverse("edit_wind_rule"), WIND)

    rule = wind_rule_of(office.firm)
    assert (str(rule.half_angle), rule.judged, str(rule.hold_above)) == (
        "60 deg",
        "facing",
        "9 mph",
    )
    assert rule.checked_by == office


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"half_angle_0": "91"}, "half_angle"),
        ({"half_angle_0": "0"}, "half_angle"),
        ({"calm_below_0": "9"}, "calm_below"),
        ({"hold_above_0": "900"}, "hold_above"),
        ({"hold_above_0": ""}, "hold_above"),
        ({"source": ""}, "source"),
    ],
)
def test_a_wrong_rule_of_wind_is_said_beside_its_field(
    client: Client, owner: Person, changed: dict[str, str], field: str
) -> None:
    client.force_login(owner)

    answer = client.post(reverse("edit_wind_rule"), WIND | changed)

    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert wind_rule_of(owner.firm).checked_by is None


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"distance_0": "-4"}, "distance"),
        ({"distance_0": "four"}, "distance"),
        ({"distance_0": ""}, "distance"),
        ({"distance_0": "1e9"}, "distance"),
        ({"downwind_0": "1e300", "downwind_1": "ft"}, "downwind"),
        ({"source": ""}, "source"),
        ({"kind": "moat"}, "kind"),
        ({"to_on": "2026-04-01"}, "__all__"),
    ],
)
def test_a_wrong_distance_is_said_beside_its_field(
    client: Client, owner: Person, changed: dict[str, str], field: str
) -> None:
    client.force_login(owner)
    typed = {
        "kind": "well",
        "distance_0": "40",
        "distance_1": "ft",
        "source": "Code",
        "from_on": "2026-05-01",
        "to_on": "",
    }

    answer = client.post(reverse("new_rule"), typed | changed)

    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert b'value="40"' in answer.content or "distance_0" in changed


def test_somebody_added_gets_a_link_to_set_their_password(client: Client, owner: Person) -> None:
    client.force_login(owner)
    typed = {"name": "Sage", "email": "Sage@Example.com", "role": "crew", "units": "us"}

    answer = client.post(reverse("new_person"), typed)

    added = Person.objects.get(email="sage@example.com")
    assert (added.firm, added.role) == (owner.firm, "crew")
    client.logout()
    page = client.get(answer.context["link"], follow=True)
    chosen = {"password1": "a-new-quiet-phrase", "password2": "a-new-quiet-phrase"}
    client.post(page.redirect_chain[-1][0], chosen)
    assert client.login(email="sage@example.com", password="a-new-quiet-phrase")


def test_an_address_signs_in_one_person_only(client: Client, owner: Person, crew: Person) -> None:
    client.force_login(owner)
    typed = {"name": "Other", "email": crew.email.upper(), "role": "crew", "units": "us"}

    answer = client.post(reverse("new_person"), typed)

    assert answer.status_code == 422
    assert "already" in answer.context["form"].errors["email"][0]


def test_the_last_owner_stays_an_owner(client: Client, owner: Person) -> None:
    client.force_login(owner)

    answer = client.post(
        reverse("edit_person", args=[owner.pk]),
        {"name": "Olive", "role": "crew", "is_active": "on"},
    )

    assert answer.status_code == 422
    assert "Make somebody else an owner first" in answer.context["form"].errors["role"][0]
    owner.refresh_from_db()
    assert owner.role == "owner"


def test_a_closed_access_does_not_sign_in(client: Client, owner: Person, crew: Person) -> None:
    client.force_login(owner)
    client.post(reverse("edit_person", args=[crew.pk]), {"name": "Quill", "role": "crew"})
    client.logout()

    assert not client.login(email=crew.email, password="a-long-quiet-phrase")


def test_a_person_chooses_the_units_they_read_in(client: Client, crew: Person) -> None:
    client.force_login(crew)

    client.post(reverse("own_facts"), {"name": "Quill", "units": "metric"})

    crew.refresh_from_db()
    assert crew.units == "metric"


def test_only_pages_with_a_map_may_load_a_firms_tiles(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)
    typed = {
        "name": "County picture",
        "url": "https://tiles.county.example/{z}/{x}/{y}.png",
        "credit": "County of nowhere",
        "max_native_zoom": "20",
    }

    client.post(reverse("new_tile_layer"), typed)

    policy = "Content-Security-Policy"
    assert "https://tiles.county.example" in client.get(place.get_absolute_url())[policy]
    assert "https://tiles.county.example" not in client.get(reverse("rules"))[policy]


@pytest.mark.parametrize(
    "url",
    [
        "http://tiles.example/{z}/{x}/{y}.png",
        "https://tiles.example/{z}/{x}.png",
        "https://a.example; script-src *//{z}/{x}/{y}",
        "javascript:alert(1)//{z}{x}{y}",
        "https://[::1/{z}/{x}/{y}.png",
        "https://tiles.example/\u202e{z}/{x}/{y}.png",
    ],
)
def test_a_tile_address_that_could_do_harm_is_refused(
    client: Client, owner: Person, url: str
) -> None:
    client.force_login(owner)
    typed = {"name": "Bad", "url": url, "credit": "", "max_native_zoom": "20"}

    answer = client.post(reverse("new_tile_layer"), typed)

    assert answer.status_code == 422
    assert not TileLayer.objects.exists()


def test_a_layer_can_be_removed(client: Client, owner: Person) -> None:
    layer = TileLayer.objects.create(
        firm=owner.firm, name="County", url="https://tiles.example/{z}/{x}/{y}.png"
    )
    client.force_login(owner)

    client.post(reverse("remove_tile_layer", args=[layer.pk]))

    assert not TileLayer.objects.exists()


def test_an_error_of_position_is_kept_under_a_name(client: Client, office: Person) -> None:
    client.force_login(office)
    row = position_errors_of(office).get(measured_by="tape")
    typed = {"error_0": "0.1", "error_1": "m", "source": "Checked against a steel tape"}

    client.post(reverse("edit_position_error", args=[row.pk]), typed)
    refused = client.post(reverse("edit_position_error", args=[row.pk]), typed | {"error_0": "0"})

    row.refresh_from_db()
    assert (str(row.error), row.checked_by) == ("0.1 m", office)
    assert refused.status_code == 422
    assert "above zero" in refused.context["form"].errors["error"][0]


def test_a_new_person_is_crew_unless_another_role_is_chosen(client: Client, owner: Person) -> None:
    client.force_login(owner)

    form = client.get(reverse("new_person")).context["form"]

    assert form["role"].value() == "crew"


def test_somebody_who_forgot_the_password_chooses_a_new_one_by_the_owners_link(
    client: Client, owner: Person, crew: Person
) -> None:
    client.force_login(owner)
    link = client.post(reverse("new_link", args=[crew.pk])).context["link"]
    client.logout()

    opened = client.get(link, follow=True)
    chosen = {"password1": "another-quiet-phrase", "password2": "another-quiet-phrase"}
    kept = client.post(opened.redirect_chain[-1][0], chosen, follow=True)
    again = client.get(link, follow=True)

    assert b"Your password is kept" in kept.content
    assert b"This link no longer works" in again.content
    assert client.login(email=crew.email, password="another-quiet-phrase")


def test_nobody_but_the_owner_makes_a_link_and_none_for_strangers_or_closed_access(
    client: Client, owner: Person, office: Person, crew: Person, stranger: Person
) -> None:
    client.force_login(office)
    assert client.post(reverse("new_link", args=[crew.pk])).status_code == 403

    client.force_login(owner)
    assert client.post(reverse("new_link", args=[stranger.pk])).status_code == 404
    crew.is_active = False
    crew.save()
    assert client.post(reverse("new_link", args=[crew.pk])).status_code == 404


@pytest.mark.parametrize("typed", ["0.001", "1e9"])
def test_an_error_that_no_corner_has_is_said_beside_its_field(
    client: Client, owner: Person, typed: str
) -> None:
    client.force_login(owner)
    row = owner.firm.position_errors.all()[0]

    answer = client.post(
        reverse("edit_position_error", args=[row.pk]),
        {"error_0": typed, "error_1": "ft", "source": "Nobody"},
    )

    assert answer.status_code == 422
    assert "is not how far" in answer.context["form"].errors["error"][0]
    row.refresh_from_db()
    assert row.checked_by is None
