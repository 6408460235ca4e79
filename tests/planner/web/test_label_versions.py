"""Every version of a label, and the second person who compares it before it is used."""

import pytest
from django.test import Client
from django.urls import reverse

from planner.models import KeptPlan, Product
from properties.models import Firm, Person
from tests.planner.web.test_labels import TYPED, entered


def test_every_change_is_a_version_that_says_what_changed(
    client: Client, office: Person, owner: Person
) -> None:
    product = entered(client, office)
    client.force_login(owner)
    client.post(reverse("edit_label", args=[product.pk]), TYPED | {"rain_fast_0": "8"})
    client.post(
        reverse("edit_label", args=[product.pk]), TYPED | {"rain_fast_0": "", "keep_off_0": "5"}
    )

    page = client.get(product.get_absolute_url()).content.decode()

    versions = list(product.versions.all())
    assert [(one.number, one.entered_by) for one in versions] == [
        (3, owner),
        (2, owner),
        (1, office),
    ]
    assert versions[-1].facts["rain_fast"] == "6 h"
    assert "rain fast: was 6 h, now 8 h" in page
    assert "rain fast: was 8 h, not given now" in page
    assert "keep off: was 4 h, now 5 h" in page


def test_a_second_person_confirms_a_label_and_a_change_asks_for_it_again(
    client: Client, office: Person, crew: Person
) -> None:
    product = entered(client, office)
    address = reverse("check_label", args=[product.pk])

    own = client.post(address, {"version": "1"})
    client.force_login(crew)
    other = client.post(address, {"version": "1"}, follow=True)

    assert own.status_code == 422
    assert "You entered this label yourself" in own.content.decode()
    assert b"compared by Quill" in other.content
    assert product.versions.get().checked_by == crew

    client.force_login(office)
    client.post(reverse("edit_label", args=[product.pk]), TYPED | {"rain_fast_0": "8"})
    client.force_login(crew)
    stale = client.post(address, {"version": "1"})
    assert stale.status_code == 422
    assert "changed meanwhile" in stale.content.decode()
    assert product.versions.get(number=2).checked_at is None


def test_a_strangers_label_cannot_be_confirmed(
    client: Client, stranger: Person, product: Product
) -> None:
    client.force_login(stranger)

    assert client.post(reverse("check_label", args=[product.pk])).status_code == 404


@pytest.mark.parametrize("number", ["", "2", "one", "-1"])
def test_a_version_that_does_not_exist_cannot_be_confirmed(
    client: Client, crew: Person, product: Product, number: str
) -> None:
    client.force_login(crew)

    answer = client.post(reverse("check_label", args=[product.pk]), {"version": number})

    assert answer.status_code == 404


def test_a_firm_can_ask_for_a_second_look_before_anything_is_planned(
    client: Client, owner: Person, office: Person, kept_plan: KeptPlan, firm: Firm
) -> None:
    client.force_login(owner)
    question = f"{reverse('plan', args=[kept_plan.property.pk])}?{kept_plan.question}"
    facts = {"name": firm.name, "units": firm.units, "currency": firm.currency}
    before = client.get(question)

    client.post(reverse("edit_firm"), facts | {"labels_need_check": "on"})
    refused = client.get(question)

    assert (before.status_code, refused.status_code) == (200, 422)
    assert "Olive and nobody else has compared it yet" in refused.content.decode()
    client.force_login(office)
    for product in Product.objects.all():
        client.post(reverse("check_label", args=[product.pk]), {"version": "1"})
    assert client.get(question).status_code == 200


def test_somebody_who_works_alone_cannot_ask_for_a_second_look(
    client: Client, stranger: Person
) -> None:
    client.force_login(stranger)
    facts = {
        "name": "Fernbrake Lawns",
        "units": "metric",
        "currency": "USD",
        "labels_need_check": "on",
    }

    answer = client.post(reverse("edit_firm"), facts)

    assert answer.status_code == 422
    assert "Nobody else" in answer.context["form"].errors["labels_need_check"][0]
    stranger.firm.refresh_from_db()
    assert not stranger.firm.labels_need_check
