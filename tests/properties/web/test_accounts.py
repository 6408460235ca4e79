"""Signing up, signing in, and what every page tells a browser it may load."""

import re

import pytest
from django.contrib.auth.hashers import identify_hasher
from django.core.mail import EmailMessage
from django.test import Client
from django.urls import reverse

from planner import settings as written
from properties.models import Firm, Person
from tests.people import PASSWORD

TYPED = {
    "firm_name": "Sedgewick Lawns",
    "name": "Fern",
    "email": "Fern@Example.com",
    "password1": PASSWORD,
    "password2": PASSWORD,
    "units": "metric",
}


def test_signing_up_opens_a_firm_with_its_owner(client: Client, db: None) -> None:
    answer = client.post(reverse("account_signup"), TYPED)

    fern = Person.objects.get()
    assert answer["Location"] == reverse("properties")
    assert (fern.firm.name, fern.role, fern.units) == ("Sedgewick Lawns", "owner", "metric")
    assert fern.email == "fern@example.com"
    assert client.get(reverse("properties")).status_code == 200


@pytest.mark.parametrize("missing", ["firm_name", "name", "email", "password1"])
def test_half_a_sign_up_opens_nothing(client: Client, db: None, missing: str) -> None:
    answer = client.post(reverse("account_signup"), TYPED | {missing: ""})

    assert missing in answer.context["form"].errors
    assert b"Sedgewick Lawns" in answer.content or missing == "firm_name"
    assert not Firm.objects.exists()


def test_signing_up_can_be_switched_off(client: Client, db: None, settings: object) -> None:
    settings.ACCOUNT_SIGNUP_ALLOWED = False  # type: ignore[attr-defined]

    client.post(reverse("account_signup"), TYPED)

    assert not Person.objects.exists()


def test_passwords_are_kept_with_argon2(client: Client, owner: Person, settings: object) -> None:
    settings.PASSWORD_HASHERS = written.PASSWORD_HASHERS  # type: ignore[attr-defined]
    owner.set_password(PASSWORD)

    assert identify_hasher(owner.password).algorithm == "argon2"


def test_the_right_password_signs_in_and_leads_back(client: Client, owner: Person) -> None:
    address = f"{reverse('account_login')}?next={reverse('machines')}"
    typed = {"login": owner.email, "password": PASSWORD, "next": reverse("machines")}

    assert client.post(address, typed)["Location"] == reverse("machines")


def test_guessing_passwords_is_slowed_down(client: Client, owner: Person) -> None:
    for _ in range(12):
        client.post(reverse("account_login"), {"login": owner.email, "password": "wrong"})

    client.post(reverse("account_login"), {"login": owner.email, "password": PASSWORD})

    assert client.get(reverse("properties")).status_code == 302


@pytest.mark.parametrize("name", ["account_login", "account_signup", "account_reset_password"])
def test_the_pages_of_the_door_have_a_strict_policy_and_no_outside_address(
    client: Client, db: None, name: str
) -> None:
    answer = client.get(reverse(name))

    policy = answer["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert not re.findall(rb"""(?:src|href|action)=["'](?:https?:)?//""", answer.content)
    assert b" style=" not in answer.content
    assert b"onclick" not in answer.content


def test_a_page_that_is_not_there_says_so_in_words(client: Client, owner: Person) -> None:
    client.force_login(owner)

    answer = client.get("/properties/999999/")

    assert answer.status_code == 404
    assert b"There is no such page in your firm" in answer.content


def test_who_forgot_the_password_is_told_whom_to_ask_and_the_link_is_sent(
    client: Client, crew: Person, mailoutbox: list[EmailMessage]
) -> None:
    asked = client.get(reverse("account_reset_password"))
    answer = client.post(reverse("account_reset_password"), {"email": crew.email}, follow=True)

    assert b"the owner of your firm" in asked.content
    assert b"The link is asked for" in answer.content
    assert reverse("account_login").encode() in answer.content
    assert [letter.to for letter in mailoutbox] == [[crew.email]]


def test_a_sign_up_sent_twice_at_once_opens_one_firm(
    client: Client, db: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    client.post(reverse("account_signup"), TYPED)
    client.logout()
    # As the second request sees it: nobody had this address when its form was checked.
    monkeypatch.setattr(
        "allauth.account.forms.BaseSignupForm.validate_unique_email", lambda _form, value: value
    )

    answer = client.post(reverse("account_signup"), TYPED)

    assert answer.status_code == 302
    assert answer["Location"] == reverse("account_login")
    assert (Person.objects.count(), Firm.objects.count()) == (1, 1)
