"""The history of a tank: written, shut after what kills turf, opened by somebody."""

from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from planner.models import Machine, Mix, Product, TankUse
from planner.services.equipment import keep_machine
from planner.services.labels import keep_label
from planner.services.mixes import keep_mix
from planner.services.tanks import record_tank_use
from properties.core.units import Quantity
from properties.models import Person, Property
from tests.work import DONE_AT


@pytest.fixture
def killer(owner: Person) -> Mix:
    """An invented total herbicide alone."""
    product = keep_label(
        Product(
            firm=owner.firm,
            name="Invented total herbicide",
            kills_turf=True,
            is_invented=True,
            entered_by=owner,
            entered_at=DONE_AT,
        ),
        setbacks={},
    )
    return keep_mix(
        Mix(firm=owner.firm, name="Beds only"),
        parts=[(product, Quantity(1.0, "fl oz/1000 sq ft"))],
    )


@pytest.fixture
def shut(machine: Machine, killer: Mix, crew: Person) -> TankUse:
    """The first tank of the ride-on, after the total herbicide."""
    return record_tank_use(machine, tank=1, mix=killer, person=crew, at=DONE_AT)


def plan_codes(client: Client, place: Property, machine: Machine, mix: Mix) -> list[str]:
    page = client.get(reverse("plan", args=[place.pk]), {"machine": machine.pk, "mix": mix.pk})
    return [refusal["code"] for refusal in page.context["plan"]["refusals"]]


def test_what_is_mixed_is_written_into_the_history(
    client: Client, machine: Machine, mix: Mix, crew: Person
) -> None:
    client.force_login(crew)

    answered = client.post(
        reverse("tank_history", args=[machine.pk]), {"tank": "2", "mix": mix.pk}, follow=True
    )

    use = TankUse.objects.get()
    assert (use.tank, use.kills_turf, use.mixed_by) == (2, False, crew)
    assert use.held == ["Invented broadleaf herbicide", "Invented surfactant"]
    assert "stands in the tank’s history" in answered.content.decode()
    assert str(use).startswith("tank 2 of Ride-on")


def test_a_shut_tank_refuses_the_plan_until_somebody_confirms_the_rinse(
    client: Client, place: Property, machine: Machine, mix: Mix, shut: TankUse, crew: Person
) -> None:
    client.force_login(crew)
    assert plan_codes(client, place, machine, mix) == ["tank_not_rinsed"]
    assert (
        "locked: not rinsed"
        in client.get(reverse("tank_history", args=[machine.pk])).content.decode()
    )

    answered = client.post(
        reverse("rinse_tank", args=[machine.pk, 1]),
        {"how": "Three rinses of 3 gal with cleaner, onto the gravel bed", "as_label": "on"},
        follow=True,
    )

    assert answered.redirect_chain == [(reverse("tank_history", args=[machine.pk]), 302)]
    shut.refresh_from_db()
    assert (shut.rinsed_by, shut.rinsed_by_name) == (crew, "Quill")
    assert plan_codes(client, place, machine, mix) == []


def test_the_hand_tool_brings_its_own_history(
    client: Client,
    place: Property,
    machine: Machine,
    hand_gun: Machine,
    killer: Mix,
    crew: Person,
) -> None:
    record_tank_use(hand_gun, tank=1, mix=killer, person=crew, at=DONE_AT)
    client.force_login(crew)

    page = client.get(
        reverse("plan", args=[place.pk]),
        {"machine": machine.pk, "hand_tool": hand_gun.pk, "mix": killer.pk},
    )

    (before,) = page.context["plan"]["tanks_before"]
    assert (before["tool"], before["locked"]) == ("hand_tool", True)


def test_a_tank_that_was_taken_off_the_machine_is_not_told(
    client: Client, place: Property, machine: Machine, mix: Mix, killer: Mix, crew: Person
) -> None:
    record_tank_use(machine, tank=2, mix=killer, person=crew, at=DONE_AT)
    keep_machine(machine, capacities=[Quantity(25.0, "gal")])
    client.force_login(crew)

    page = client.get(reverse("plan", args=[place.pk]), {"machine": machine.pk, "mix": mix.pk})

    assert "tanks_before" not in page.context["plan"]


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"how": "", "as_label": "on"}, "how", "Write how it was rinsed"),
        ({"how": "Twice"}, "as_label", "stands for it"),
    ],
)
def test_a_rinse_that_nobody_stands_for_opens_nothing(
    client: Client, shut: TankUse, typed: dict[str, Any], field: str, words: str
) -> None:
    assert shut.mixed_by is not None
    client.force_login(shut.mixed_by)

    page = client.post(reverse("rinse_tank", args=[shut.machine.pk, 1]), typed)

    assert page.status_code == 422
    assert words in str(page.context["form"].errors[field])
    shut.refresh_from_db()
    assert shut.rinsed_at is None


def test_a_rinse_is_confirmed_once(
    client: Client, machine: Machine, shut: TankUse, crew: Person, owner: Person
) -> None:
    typed = {"how": "Three rinses", "as_label": "on"}
    client.force_login(crew)
    client.post(reverse("rinse_tank", args=[machine.pk, 1]), typed)
    client.force_login(owner)

    page = client.post(reverse("rinse_tank", args=[machine.pk, 1]), typed)

    assert page.status_code == 422
    assert "Quill has confirmed already" in page.content.decode()


def test_a_tank_the_machine_does_not_have_is_refused(
    client: Client, machine: Machine, mix: Mix, crew: Person
) -> None:
    client.force_login(crew)

    page = client.post(reverse("tank_history", args=[machine.pk]), {"tank": "7", "mix": mix.pk})

    assert page.status_code == 422
    assert not TankUse.objects.exists()


def test_a_tank_without_a_history_cannot_be_rinsed_and_a_stranger_sees_none(
    client: Client, machine: Machine, shut: TankUse, crew: Person, stranger: Person
) -> None:
    client.force_login(crew)
    assert client.get(reverse("rinse_tank", args=[machine.pk, 2])).status_code == 404
    assert client.get(reverse("rinse_tank", args=[machine.pk, 1])).status_code == 200

    client.force_login(stranger)
    assert client.get(reverse("rinse_tank", args=[machine.pk, 1])).status_code == 404
    assert client.post(reverse("tank_history", args=[machine.pk])).status_code == 404
