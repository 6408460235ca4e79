"""The head of every page leads to the sections, and says where one is."""

import pytest
from django.test import Client
from django.urls import reverse

from properties.models import Person

pytestmark = pytest.mark.django_db


def _head(client: Client, person: Person, url: str) -> str:
    client.force_login(person)
    text = client.get(url).content.decode()
    return text[text.index('<header class="masthead">') : text.index("</header>")]


def test_the_section_of_a_page_is_marked_in_both_menus_and_named_when_folded(
    client: Client, owner: Person
) -> None:
    head = _head(client, owner, reverse("mixing"))
    assert head.count('aria-current="page">Labels') == head.count("aria-current") == 2
    assert "Menu: Labels" in head


def test_only_who_runs_the_firm_is_led_to_its_page(
    client: Client, owner: Person, crew: Person
) -> None:
    to_firm = f'href="{reverse("firm")}"'
    assert to_firm in _head(client, owner, reverse("machines"))
    assert to_firm not in _head(client, crew, reverse("machines"))


def test_whoever_is_not_signed_in_is_led_nowhere(client: Client) -> None:
    text = client.get(reverse("account_login")).content.decode()
    assert "menu-wide" not in text
