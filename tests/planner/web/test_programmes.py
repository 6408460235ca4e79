"""The programme form: rounds come, go and change places, and nothing typed is lost."""

from typing import Any

import pytest
from django.http import QueryDict
from django.test import Client
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from planner.models import Machine, Mix, Programme, SeasonFinding
from planner.services.season_checks import check_in_background
from planner.web.forms.rows import rearranged
from properties.models import Errand, Person, Property

Typed = dict[str, Any]


def _round(n: int, name: str, mix: Mix, machine: Machine, **more: Any) -> Typed:
    typed = {
        "name": name,
        "mix": mix.pk,
        "machine": machine.pk,
        "opened_by": "dates",
        "from_day_0": "04",
        "from_day_1": "10",
        "to_day_0": "04",
        "to_day_1": "30",
        "counted_from_0": "03",
        "counted_from_1": "01",
        "soil_way": "rising",
        "formula": "averaging",
        **{f"{name}_1": "deg F" for name in ("soil_at", "base", "cut_off")},
        **{f"degree_days_{end}_1": "deg F day" for end in ("from", "to")},
    }
    return {f"r{n}-{key}": value for key, value in (typed | more).items()}


@pytest.fixture
def two_rounds(mix: Mix, machine: Machine) -> Typed:
    return {
        "name": "Weeds twice",
        "rounds": "3",
        **_round(1, "Spring", mix, machine),
        **_round(2, "Autumn", mix, machine, from_day_0="09", to_day_0="10"),
    }


def _post(client: Client, person: Person, typed: Typed, address: str = "") -> Any:
    client.force_login(person)
    return client.post(address or reverse("new_programme"), typed)


def test_a_programme_is_kept_without_its_unused_rows(
    client: Client, office: Person, two_rounds: Typed
) -> None:
    answer = _post(client, office, two_rounds)

    kept = Programme.objects.get()
    assert answer.status_code == 302
    assert answer["Location"] == kept.get_absolute_url()
    assert [(each.position, each.name, each.to_day) for each in kept.rounds.all()] == [
        (1, "Spring", "04-30"),
        (2, "Autumn", "10-30"),
    ]


@pytest.mark.parametrize(
    ("act", "order"),
    [
        ("add", ["Spring", "Autumn", "", ""]),
        ("remove:1", ["Autumn", ""]),
        ("down:1", ["Autumn", "Spring", ""]),
        ("up:3", ["Spring", "", "Autumn"]),
        ("up:1", ["Spring", "Autumn", ""]),
        ("remove:99", ["Spring", "Autumn", ""]),
    ],
)
def test_rows_change_places_and_nothing_is_kept_or_lost(
    client: Client, office: Person, two_rounds: Typed, act: str, order: list[str]
) -> None:
    answer = _post(client, office, two_rounds | {"r2-soil_at_0": "half typ", "act": act})

    rounds = answer.context["forms"].rounds
    assert answer.status_code == 200
    assert [each["name"].value() or "" for each in rounds] == order
    assert b"errorlist" not in answer.content
    assert b"half typ" in answer.content
    assert not Programme.objects.exists()


def test_a_window_that_ends_before_it_begins_is_said_at_its_round(
    client: Client, office: Person, two_rounds: Typed
) -> None:
    answer = _post(client, office, two_rounds | {"r2-to_day_0": "01"})

    assert answer.status_code == 422
    errors = answer.context["forms"].rounds[1].errors
    assert "goes on into the next year" in errors["to_day"][0]
    assert not Programme.objects.exists()


def test_a_window_over_the_new_year_is_kept_where_it_is_said(
    client: Client, office: Person, two_rounds: Typed
) -> None:
    _post(client, office, two_rounds | {"r2-to_day_0": "01", "r2-over_new_year": "on"})

    assert Programme.objects.get().rounds.get(name="Autumn").over_new_year


def test_february_29_is_refused_with_the_days_beside_it(
    client: Client, office: Person, two_rounds: Typed
) -> None:
    answer = _post(client, office, two_rounds | {"r1-from_day_0": "02", "r1-from_day_1": "29"})

    assert "Choose February 28 or March 1" in answer.content.decode()


def test_two_rounds_of_one_name_are_refused(
    client: Client, office: Person, two_rounds: Typed
) -> None:
    answer = _post(client, office, two_rounds | {"r2-name": "spring"})

    assert "Two rounds are called" in answer.context["forms"].rounds[1].errors["name"][0]


def test_a_programme_without_a_round_is_refused(client: Client, office: Person) -> None:
    answer = _post(client, office, {"name": "Empty", "rounds": "1"})

    assert answer.status_code == 422
    assert "has no round" in answer.content.decode()


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"opened_by": "soil", "soil_at_0": "50"}, "soil_days"),
        ({"opened_by": "soil", "soil_days": "3"}, "soil_at"),
        ({"opened_by": "degree_days", "base_0": "50", "degree_days_to_0": "9"}, "degree_days_from"),
    ],
)
def test_what_opens_a_round_must_be_told_whole(
    client: Client, office: Person, two_rounds: Typed, typed: Typed, field: str
) -> None:
    told = {f"r1-{name}": value for name, value in typed.items()}

    answer = _post(client, office, two_rounds | told)

    assert field in answer.context["forms"].rounds[0].errors
    assert answer.context["forms"].rounds[0].warmth_is_used()


def test_degree_days_end_after_they_begin(
    client: Client, office: Person, two_rounds: Typed
) -> None:
    told = {"opened_by": "degree_days", "base_0": "50"}
    told |= {"degree_days_from_0": "400", "degree_days_to_0": "300"}

    answer = _post(client, office, two_rounds | {f"r1-{name}": v for name, v in told.items()})

    assert "no more than what opens it" in answer.content.decode()


def test_a_name_that_is_taken_is_said_at_the_name(
    client: Client, office: Person, two_rounds: Typed, programme: Programme
) -> None:
    answer = _post(client, office, two_rounds | {"name": programme.name})

    assert answer.status_code == 422
    assert "programme of this name already" in answer.content.decode()


def test_changing_a_programme_keeps_the_rows_of_its_rounds(
    client: Client, office: Person, programme: Programme, mix: Mix, machine: Machine
) -> None:
    spring, _, autumn = programme.rounds.all()
    typed = {"name": "Weeds all year", "rounds": "2"}
    typed |= _round(1, "Autumn", mix, machine, key=autumn.pk)
    typed |= _round(2, "Spring", mix, machine, key=spring.pk)

    _post(client, office, typed, reverse("edit_programme", args=[programme.pk]))

    assert [each.pk for each in programme.rounds.all()] == [autumn.pk, spring.pk]


def test_the_second_of_two_people_is_told_and_overwrites_nothing(
    client: Client, office: Person, owner: Person, programme: Programme, mix: Mix, machine: Machine
) -> None:
    address = reverse("edit_programme", args=[programme.pk])
    client.force_login(office)
    opened = client.get(address).context["forms"].version
    typed = {"rounds": "1", "version": opened, **_round(1, "Spring", mix, machine)}

    _post(client, owner, typed | {"name": "By the owner"}, address)
    answer = _post(client, office, typed | {"name": "By the office"}, address)

    assert answer.status_code == 422
    assert "Somebody else has changed this programme" in answer.content.decode()
    assert b"By the office" in answer.content
    programme.refresh_from_db()
    assert programme.name == "By the owner"


def test_the_mix_of_another_firm_cannot_be_chosen(
    client: Client, office: Person, stranger: Person, two_rounds: Typed
) -> None:
    theirs = Mix.objects.create(firm=stranger.firm, name="Theirs")

    answer = _post(client, office, two_rounds | {"r1-mix": theirs.pk})

    assert "mix" in answer.context["forms"].rounds[0].errors


def test_a_programme_is_checked_at_every_property_and_what_was_found_stays(
    client: Client, office: Person, place: Property, programme: Programme
) -> None:
    client.force_login(office)
    address = f"{reverse('check_programme', args=[programme.pk])}?year=2050"
    before = client.get(address).content.decode()

    client.post(address)
    client.post(address)
    answer = client.get(address)

    assert "Not checked yet" in before
    ((finding, rounds),) = answer.context["checked"]
    assert (finding.place, finding.worst, rounds) == (place, "fits", [])
    assert SeasonFinding.objects.count() == 1


def test_many_properties_are_checked_in_the_background(
    client: Client, office: Person, place: Property, programme: Programme, monkeypatch: Any
) -> None:
    monkeypatch.setattr("planner.services.season_checks.AT_ONCE", 0)
    client.force_login(office)
    address = f"{reverse('check_programme', args=[programme.pk])}?year=2050"

    answer = client.post(address)
    errand = Errand.objects.get()
    check_in_background.call(errand.pk)

    errand.refresh_from_db()
    assert answer["Location"] == errand.get_absolute_url()
    assert "Properties checked: 1. Where a round does not fit: 0." in errand.message
    assert SeasonFinding.objects.get().place == place


def test_the_crew_looks_and_does_not_check(
    client: Client, crew: Person, programme: Programme
) -> None:
    client.force_login(crew)
    address = reverse("check_programme", args=[programme.pk])

    assert (client.get(address).status_code, client.post(address).status_code) == (200, 403)


@given(act=st.text(max_size=8), count=st.integers(1, 24))
def test_no_act_loses_more_than_the_row_it_names(act: str, count: int) -> None:
    posted = QueryDict(mutable=True)
    posted["rounds"] = str(count)
    for n in range(1, count + 1):
        posted[f"r{n}-name"] = f"Round {n}"

    moved = rearranged(posted, act)

    names = sorted(value for key, value in moved.items() if key.endswith("-name"))
    lost = count - len(names)
    assert lost == (1 if act.startswith("remove:") and moved["rounds"] == str(count - 1) else 0)
