"""Pages about properties."""

import pytest
from django.test import Client
from django.urls import reverse

from properties.models import Customer, Person, Property
from properties.services.outlines import save_drawing
from properties.services.places import Bounds, add_property, change_property, set_picture
from tests.places import SAVED_AT, collection, facts, feature, rectangle

TYPED = {
    "name": "Mill cottage",
    "address": "9 Weir Lane, Hazel Ferry",
    "customer_name": "T. Burdock",
    "customer_phone": "555 0142",
    "customer_email": "",
    "access_note": "Dog in the yard.",
    "latitude": "41.0012",
    "longitude": "-92.002",
    "time_zone": "America/Chicago",
}


def test_a_new_property_leads_to_its_map(client: Client, owner: Person) -> None:
    client.force_login(owner)

    answer = client.post(reverse("new_property"), TYPED)

    place = Property.objects.get()
    assert answer["Location"] == place.get_absolute_url()
    assert (place.firm, place.customer.name) == (owner.firm, "T. Burdock")
    assert client.get(place.get_absolute_url()).status_code == 200


@pytest.mark.parametrize(
    ("field", "typed"),
    [("latitude", "95"), ("longitude", "west"), ("name", ""), ("customer_email", "a@")],
)
def test_a_fault_is_said_beside_its_field_and_nothing_is_lost(
    client: Client, owner: Person, field: str, typed: str
) -> None:
    client.force_login(owner)

    answer = client.post(reverse("new_property"), TYPED | {field: typed})

    assert answer.status_code == 422
    assert answer.context["form"].errors.keys() == {field}
    assert b"Dog in the yard." in answer.content
    assert not Property.objects.exists()


def test_the_same_place_twice_is_refused_in_words(client: Client, owner: Person) -> None:
    client.force_login(owner)
    client.post(reverse("new_property"), TYPED)

    answer = client.post(reverse("new_property"), TYPED)

    assert answer.status_code == 422
    assert b"at this address already" in answer.content


def test_changing_the_facts_keeps_the_drawing(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)

    client.post(reverse("edit_property", args=[place.pk]), TYPED)

    place.refresh_from_db()
    assert (place.name, place.drawing_number) == ("Mill cottage", 1)


def test_facts_sent_while_a_drawing_was_saved_do_not_undo_it(
    owner: Person, place: Property
) -> None:
    opened_before = Property.objects.get(pk=place.pk)
    lawn = collection(feature("lawn", "turf", rectangle(0, 0, 400, 300)))
    save_drawing(place, person=owner, at=SAVED_AT, base=1, why="", collection=lawn)

    change_property(opened_before, facts(name="Renamed"))

    place.refresh_from_db()
    assert (place.name, place.drawing_number) == ("Renamed", 2)


def test_a_second_property_does_not_wipe_what_is_known_of_its_customer(owner: Person) -> None:
    add_property(firm=owner.firm, facts=facts(customer_phone="555 0142"))

    add_property(firm=owner.firm, facts=facts(name="The other lot"))

    assert Customer.objects.get().phone == "555 0142"


def test_a_telephone_can_be_cleared_on_the_customers_own_property(owner: Person) -> None:
    known = add_property(firm=owner.firm, facts=facts(customer_phone="555 0142"))

    change_property(known, facts(customer_phone=""))

    assert Customer.objects.get().phone == ""


def test_a_customer_is_known_again_by_name(owner: Person) -> None:
    add_property(firm=owner.firm, facts=facts())
    add_property(firm=owner.firm, facts=facts(name="The other lot"))

    assert Customer.objects.count() == 1


@pytest.mark.parametrize(
    ("words", "found"), [("teasel", 1), ("small sorrel", 1), ("nowhere", 0), ("", 1)]
)
def test_a_property_is_found_by_name_address_or_customer(
    client: Client, owner: Person, place: Property, words: str, found: int
) -> None:
    client.force_login(owner)

    page = client.get(reverse("properties"), {"find": words}).context["page"]

    assert len(page.object_list) == found


def test_a_stranger_finds_nothing_of_another_firm(
    client: Client, place: Property, stranger: Person
) -> None:
    client.force_login(stranger)

    assert not client.get(reverse("properties")).context["page"].object_list


def test_the_list_asks_the_database_as_often_for_sixty_as_for_one(
    client: Client, owner: Person, place: Property, django_assert_max_num_queries: object
) -> None:
    for n in range(60):
        add_property(firm=owner.firm, facts=facts(name=f"Lot {n}"))
    client.force_login(owner)

    with django_assert_max_num_queries(6):  # type: ignore[operator]
        client.get(reverse("properties"))


def test_a_picture_is_sent_to_the_firm_alone(
    client: Client, owner: Person, stranger: Person, place: Property
) -> None:
    bounds = Bounds(west=-92.002, south=41.0, east=-92.0, north=41.002)
    set_picture(place, name="From above", credit="Invented", content=b"webp", bounds=bounds)
    address = reverse("property_picture", args=[place.pk])

    client.force_login(owner)
    assert b"".join(client.get(address)) == b"webp"
    client.force_login(stranger)
    assert client.get(address).status_code == 404


def test_a_property_without_a_picture_has_none_to_send(
    client: Client, owner: Person, place: Property
) -> None:
    client.force_login(owner)

    assert client.get(reverse("property_picture", args=[place.pk])).status_code == 404


def test_a_time_zone_is_chosen_not_assumed_and_the_next_property_is_offered_the_same(
    client: Client, office: Person
) -> None:
    client.force_login(office)
    before = client.get(reverse("new_property")).context["form"]["time_zone"].value()
    refused = client.post(reverse("new_property"), TYPED | {"time_zone": ""})
    client.post(reverse("new_property"), TYPED | {"time_zone": "America/Denver"})
    after = client.get(reverse("new_property")).context["form"]["time_zone"].value()

    assert (before, after) == ("", "America/Denver")
    assert refused.status_code == 422
    assert "time_zone" in refused.context["form"].errors
