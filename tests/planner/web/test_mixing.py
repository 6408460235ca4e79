"""Pairs, jar tests and water as a firm keeps them, and what a plan makes of them."""

from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from planner.models import JarTest, KeptPlan, Mix, Product, ProductPair, WaterTest
from properties.core.units import Quantity
from properties.models import Person


@pytest.fixture
def surfactant(mix: Mix) -> Product:
    return Product.objects.get(name="Invented surfactant")


@pytest.fixture
def question(kept_plan: KeptPlan) -> str:
    return f"{reverse('plan', args=[kept_plan.property.pk])}?{kept_plan.question}"


def found(client: Client, question: str, kind: str) -> set[str]:
    plan: dict[str, Any] = client.get(question).context["plan"]
    return {finding["code"] for finding in plan[kind]}


def test_a_pair_that_must_not_be_mixed_stops_the_plan_until_it_is_removed(
    client: Client, office: Person, product: Product, surfactant: Product, question: str
) -> None:
    client.force_login(office)
    typed = {"first": surfactant.pk, "second": product.pk, "source": "Both labels, invented"}

    client.post(reverse("new_pair"), typed | {"blocks": "on"})
    stopped = found(client, question, "refusals")
    pair = ProductPair.objects.get()
    client.post(reverse("remove_pair", args=[pair.pk]))

    assert "do_not_mix" in stopped
    assert str(pair) == "Invented broadleaf herbicide and Invented surfactant"
    assert pair.entered_by == office
    assert "do_not_mix" not in found(client, question, "refusals")


def test_a_pair_that_needs_care_warns(
    client: Client, office: Person, product: Product, surfactant: Product, question: str
) -> None:
    client.force_login(office)

    client.post(
        reverse("new_pair"), {"first": product.pk, "second": surfactant.pk, "source": "A test"}
    )

    assert "mix_with_care" in found(client, question, "warnings")


@pytest.mark.parametrize("order", [("product", "surfactant"), ("surfactant", "product")])
def test_a_pair_is_entered_once_whichever_way_round(
    client: Client,
    office: Person,
    request: pytest.FixtureRequest,
    order: tuple[str, str],
    product: Product,
    surfactant: Product,
) -> None:
    client.force_login(office)
    first, second = (request.getfixturevalue(name).pk for name in order)
    client.post(reverse("new_pair"), {"first": first, "second": second, "source": "A test"})

    again = client.post(
        reverse("new_pair"), {"first": product.pk, "second": surfactant.pk, "source": "Again"}
    )
    same = client.post(
        reverse("new_pair"), {"first": product.pk, "second": product.pk, "source": "Itself"}
    )

    assert (again.status_code, same.status_code) == (422, 422)
    assert ProductPair.objects.count() == 1


def test_a_strangers_products_cannot_be_paired(
    client: Client, stranger: Person, product: Product, surfactant: Product
) -> None:
    client.force_login(stranger)

    answer = client.post(
        reverse("new_pair"), {"first": product.pk, "second": surfactant.pk, "source": "x"}
    )

    assert answer.status_code == 422
    assert set(answer.context["form"].errors) == {"first", "second"}


def test_a_strangers_pair_cannot_be_removed(
    client: Client, office: Person, stranger: Person, product: Product, surfactant: Product
) -> None:
    client.force_login(office)
    client.post(
        reverse("new_pair"), {"first": product.pk, "second": surfactant.pk, "source": "A test"}
    )
    client.force_login(stranger)

    answer = client.post(reverse("remove_pair", args=[ProductPair.objects.get().pk]))

    assert answer.status_code == 404
    assert ProductPair.objects.exists()


def test_a_mix_that_was_tried_in_a_jar_is_not_told_to_be_tried_again(
    client: Client, crew: Person, mix: Mix, question: str
) -> None:
    client.force_login(crew)
    before = found(client, question, "warnings")

    client.post(reverse("new_jar_test"), {"mix": mix.pk, "fits": "yes", "note": "Half an hour"})

    assert "jar_test_needed" in before
    assert "jar_test_needed" not in found(client, question, "warnings")
    test = JarTest.objects.get()
    assert (test.tried_by, test.fits, test.note) == (crew, True, "Half an hour")
    assert test.products == ["Invented broadleaf herbicide", "Invented surfactant"]
    assert b"goes together" in client.get(reverse("mixing")).content


def test_a_failed_jar_test_stops_the_plan_with_who_saw_it(
    client: Client, crew: Person, mix: Mix, question: str
) -> None:
    client.force_login(crew)

    client.post(reverse("new_jar_test"), {"mix": mix.pk, "fits": "no"})

    page = client.get(question).content.decode()
    assert "jar_test_failed" in found(client, question, "refusals")
    assert "by Quill" in page


def test_one_product_alone_needs_no_jar(
    client: Client, crew: Person, mix: Mix, surfactant: Product
) -> None:
    mix.parts.filter(product=surfactant).delete()
    client.force_login(crew)

    answer = client.post(reverse("new_jar_test"), {"mix": mix.pk, "fits": "yes"})

    assert answer.status_code == 422
    assert "one product only" in answer.context["form"].errors["mix"][0]


def test_the_water_of_a_firm_is_told_in_its_plans(
    client: Client, office: Person, question: str
) -> None:
    client.force_login(office)
    typed = {"calcium_0": "250", "calcium_1": "mg/L", "magnesium_0": "80", "magnesium_1": "mg/L"}
    more = {"tested_on": "2026-02-10", "source": "Shop well, invented"}

    client.post(reverse("edit_water_test"), typed | more)
    client.post(reverse("edit_water_test"), typed | more | {"calcium_0": "300"})
    told = client.get(question).context["plan"]["water_conditioning"]

    # 0.009 × 300 + 0.014 × 80, North Dakota State University.
    assert told["ammonium_sulfate"]["value"] == pytest.approx(3.82, abs=1e-9)
    assert WaterTest.objects.count() == 1


def test_water_that_cannot_be_is_said_beside_its_field(client: Client, office: Person) -> None:
    client.force_login(office)
    typed = {"calcium_0": "250000", "calcium_1": "mg/L"}

    answer = client.post(
        reverse("edit_water_test"), typed | {"tested_on": "2026-02-10", "source": "Well"}
    )

    assert answer.status_code == 422
    assert "cannot be right" in answer.context["form"].errors["calcium"][0]
    assert b"250000" in answer.content


def test_a_rate_unlike_those_of_kept_plans_is_told(
    client: Client, owner: Person, product: Product, mix: Mix, question: str
) -> None:
    Product.objects.update(rate_min=None, rate_max=None)
    part = mix.parts.get(product=product)
    part.rate = Quantity(8.0, "fl oz/1000 sq ft")
    part.save()
    client.force_login(owner)

    # The kept plan has it at 0.8 fl oz/1,000 sq ft.
    assert "rate_unlike_before" in found(client, question, "warnings")


def test_a_kept_plan_is_not_another_one_for_having_been_kept(
    client: Client, owner: Person, kept_plan: KeptPlan
) -> None:
    client.force_login(owner)

    page = client.get(kept_plan.get_absolute_url())

    assert page.context["since"] == []


def test_heat_and_rain_are_asked_for_and_judged(
    client: Client, owner: Person, product: Product, question: str
) -> None:
    Product.objects.filter(pk=product.pk).update(temperature_max="85 deg F", rain_fast="6 h")
    client.force_login(owner)
    air = "&temperature_0=90&temperature_1=deg F&rain_in_0=2&rain_in_1=h"

    refused = found(client, question + air, "refusals")
    page = client.get(question + air).content.decode()

    assert {"temperature_over_label", "rain_too_soon"} <= refused
    assert "temperature_unknown" in found(client, question, "warnings")
    assert "it is 90 °F and the label allows 85 °F at most" in page


def test_turf_that_must_not_get_it_is_known_from_the_property(
    client: Client, owner: Person, product: Product, kept_plan: KeptPlan, question: str
) -> None:
    Product.objects.filter(pk=product.pk).update(tolerance={"fine_fescue": "forbidden"})
    client.force_login(owner)
    place = kept_plan.property
    facts = client.get(reverse("edit_property", args=[place.pk])).context["form"].initial
    unknown = found(client, question, "warnings")

    client.post(
        reverse("edit_property", args=[place.pk]),
        facts | {"turfgrass_1": "tall_fescue", "turfgrass_2": "fine_fescue"},
    )

    place.refresh_from_db()
    assert place.turfgrasses == ["tall_fescue", "fine_fescue"]
    assert b"Turf: tall fescue, fine fescue" in client.get(place.get_absolute_url()).content
    assert "turfgrass_unknown" in unknown
    assert "turf_not_tolerant" in found(client, question, "refusals")


def test_a_mix_shows_its_order_and_what_is_known_of_it(
    client: Client, office: Person, mix: Mix, product: Product, surfactant: Product
) -> None:
    Product.objects.filter(pk=product.pk).update(mixing_notes="Shake the jug, invented")
    client.force_login(office)
    pair = {"first": product.pk, "second": surfactant.pk, "source": "A test, invented"}
    client.post(reverse("new_pair"), pair)
    client.post(reverse("new_jar_test"), {"mix": mix.pk, "fits": "yes"})
    mix.parts.filter(product=surfactant).update(position=0)

    page = client.get(mix.get_absolute_url())

    assert [part.product for part, _ in page.context["order"]] == [product, surfactant]
    assert "only with care (A test, invented)" in page.context["known"][0]
    assert "went together in a jar on" in page.context["known"][1]
    assert b"Shake the jug, invented" in page.content

    Mix.objects.update(order_is_from_label=True)
    told = client.get(mix.get_absolute_url()).context["order"]
    assert [part.product for part, _ in told] == [surfactant, product]


def test_the_list_says_which_labels_were_compared(
    client: Client, owner: Person, office: Person, product: Product, surfactant: Product
) -> None:
    client.force_login(office)
    client.post(reverse("check_label", args=[product.pk]), {"version": "1"})

    listed = client.get(reverse("labels")).context["products"]

    assert {one.name for one in listed if one.compared_at} == {product.name}


def test_the_plan_says_which_version_of_a_label_it_went_by(
    client: Client, office: Person, product: Product, question: str
) -> None:
    client.force_login(office)

    plan = client.get(question)

    facts = {each["name"]: each for each in plan.context["plan"]["label_facts"]}
    assert facts[product.name]["version"] == 1
    assert b"version 1" in plan.content
