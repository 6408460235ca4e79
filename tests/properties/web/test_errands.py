"""Pages about work under way: how far it is, and buttons that do what they say."""

from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from properties.models import Customer, Errand, Person
from properties.selectors.errands import SILENT_AFTER


def _at(errand: Errand, **facts: object) -> None:
    Errand.objects.filter(pk=errand.pk).update(**facts)


def test_the_page_says_how_far_the_work_is(client: Client, crew: Person, errand: Errand) -> None:
    _at(errand, state="running", heard_at=timezone.now(), done=1200, total=5000)
    client.force_login(crew)

    part = client.get(reverse("errand_part", args=[errand.pk])).content.decode()

    assert "1,200 of 5,000" in part
    assert 'max="5000" value="1200"' in part


def test_the_page_says_that_no_worker_is_there(
    client: Client, owner: Person, errand: Errand
) -> None:
    _at(errand, asked_at=timezone.now() - timedelta(minutes=1))
    client.force_login(owner)

    page = client.get(errand.get_absolute_url()).content.decode()

    assert "the worker that does long work is not running" in page
    assert "Do it now, while I wait" in page


def test_work_that_nobody_takes_up_is_done_while_one_waits(
    client: Client, owner: Person, errand: Errand
) -> None:
    _at(errand, asked_at=timezone.now() - timedelta(minutes=1))
    client.force_login(owner)

    client.post(reverse("do_errand_here", args=[errand.pk]))

    assert Customer.objects.get().name == "Wren Alder"
    assert "See what came of it" in client.get(errand.get_absolute_url()).content.decode()


def test_the_button_stops_the_work_and_another_begins_it_again(
    client: Client, owner: Person, errand: Errand
) -> None:
    client.force_login(owner)

    client.post(reverse("stop_errand", args=[errand.pk]))
    errand.refresh_from_db()
    assert errand.state == "stopped"
    assert not Customer.objects.exists()
    client.post(reverse("begin_errand_again", args=[errand.pk]))

    errand.refresh_from_db()
    assert errand.state == "done"


def test_work_that_broke_off_says_that_nothing_was_written(
    client: Client, owner: Person, errand: Errand
) -> None:
    _at(errand, state="running", heard_at=timezone.now() - 2 * SILENT_AFTER)
    client.force_login(owner)

    page = client.get(errand.get_absolute_url()).content.decode()

    assert "Nothing was written" in page
    assert "Begin again" in page


def test_a_button_that_comes_too_late_says_so(
    client: Client, owner: Person, errand: Errand
) -> None:
    _at(errand, state="done", message="All is there.")
    client.force_login(owner)

    answer = client.post(reverse("begin_errand_again", args=[errand.pk]), follow=True)

    assert "This is not at a standstill" in answer.content.decode()


@pytest.mark.parametrize("name", ["stop_errand", "begin_errand_again", "do_errand_here"])
def test_only_who_asked_or_runs_the_firm_directs_the_work(
    client: Client, office: Person, stranger: Person, errand: Errand, name: str
) -> None:
    address = reverse(name, args=[errand.pk])

    client.force_login(office)
    assert client.post(address).status_code == 403
    client.force_login(stranger)
    assert client.post(address).status_code == 404
    errand.refresh_from_db()
    assert errand.state == "waiting"


def test_the_part_that_is_polled_is_for_the_firm_alone(
    client: Client, stranger: Person, errand: Errand
) -> None:
    address = reverse("errand_part", args=[errand.pk])

    assert client.get(address).status_code == 401
    client.force_login(stranger)
    assert client.get(address).status_code == 404
