"""How far a stated area may be out: an example first, then the firm's own word."""

import pytest
from django.test import Client
from django.urls import reverse

from properties.models import Firm, Person, StatedAreaRule
from properties.selectors.stated_areas import stated_area_rule_of

TYPED = {"error_0": "25", "error_1": "%", "source": "Twelve lots of ours, stated and then drawn"}


def test_a_firm_starts_with_an_example_that_nobody_checked(client: Client, owner: Person) -> None:
    client.force_login(owner)

    page = client.get(reverse("rules")).content.decode()

    assert "Stated, not drawn: the whole area" in page
    assert "15 %" in page
    assert not StatedAreaRule.objects.exists()


def test_whoever_sets_the_error_has_checked_it(client: Client, office: Person) -> None:
    client.force_login(office)
    address = reverse("edit_stated_area_rule")

    client.post(address, TYPED)
    client.post(address, TYPED | {"error_0": "20"})

    rule = stated_area_rule_of(Firm.objects.get(pk=office.firm_id))
    assert (rule.error.si, rule.checked_by) == (0.2, office)
    assert StatedAreaRule.objects.count() == 1


@pytest.mark.parametrize("error", ["0", "101", "some"])
def test_an_error_that_says_nothing_is_refused(client: Client, owner: Person, error: str) -> None:
    client.force_login(owner)

    answer = client.post(reverse("edit_stated_area_rule"), TYPED | {"error_0": error})

    assert answer.status_code == 422
    assert "error" in answer.context["form"].errors
    assert not StatedAreaRule.objects.exists()
