"""Pages about labels and mixes."""

import pytest
from django.test import Client
from django.urls import reverse

from planner.models import Mix, Product
from planner.web.forms.labels import KEPT_FROM
from properties.models import Person

LABEL = {
    "name": "Invented feed",
    "registration_number": "",
    "purpose": "Colour",
    "formulation": "SL",
    "rate_min_0": "2",
    "rate_min_1": "fl oz/1000 sq ft",
    "rate_max_0": "4",
    "rate_max_1": "fl oz/1000 sq ft",
    "protection": "Gloves",
    "is_invented": "on",
} | {f"from_{kind.token}_1": "ft" for kind in KEPT_FROM}


def test_a_label_is_kept_as_it_was_typed(client: Client, owner: Person) -> None:
    client.force_login(owner)
    typed = LABEL | {"from_pond_0": "20", "from_pond_1": "ft"}

    client.post(reverse("new_label"), typed)

    kept = Product.objects.get()
    assert (str(kept.rate_min), str(kept.rate_max)) == ("2 fl oz/1000 sq ft", "4 fl oz/1000 sq ft")
    assert [(row.kind, str(row.distance)) for row in kept.setbacks.all()] == [("pond", "20 ft")]
    assert kept.entered_by == owner
    assert kept.carrier_min is None


@pytest.mark.parametrize(
    ("changed", "field", "words"),
    [
        ({"rate_max_0": "1"}, "rate_max", "below the lowest"),
        ({"rate_max_1": "oz wt/1000 sq ft"}, "rate_max", "Use one kind"),
        ({"rate_max_1": "%"}, "rate_max", "Use one kind"),
        ({"rate_min_0": "two"}, "rate_min", "number"),
        ({"rate_min_0": "0"}, "rate_min", "above zero"),
        ({"name": ""}, "name", "required"),
        ({"from_well_0": "-1"}, "from_well", "less than nothing"),
        ({"from_well_0": "1e9"}, "from_well", "cannot be right"),
        ({"rate_max_0": "1e300"}, "rate_max", "cannot be right"),
        ({"carrier_max_0": "1e9", "carrier_max_1": "L/ha"}, "carrier_max", "cannot be right"),
        ({"wind_max_0": "500", "wind_max_1": "mph"}, "wind_max", "cannot be right"),
    ],
)
def test_a_wrong_label_is_said_beside_its_field_and_nothing_is_lost(
    client: Client, owner: Person, changed: dict[str, str], field: str, words: str
) -> None:
    client.force_login(owner)

    answer = client.post(reverse("new_label"), LABEL | changed)

    assert answer.status_code == 422
    assert words in answer.context["form"].errors[field][0]
    assert b"Colour" in answer.content
    assert not Product.objects.exists()


def test_a_mix_pairs_products_with_rates(client: Client, owner: Person, product: Product) -> None:
    client.force_login(owner)
    typed = {
        "name": "Early",
        "product_1": str(product.pk),
        "rate_1_0": "0.9",
        "rate_1_1": "fl oz/1000 sq ft",
    }

    client.post(reverse("new_mix"), typed)

    (part,) = Mix.objects.get().parts.all()
    assert (part.product, str(part.rate)) == (product, "0.9 fl oz/1000 sq ft")


@pytest.mark.parametrize(
    ("number", "unit", "words"),
    [
        ("1.2", "fl oz/1000 sq ft", "more than the label allows"),
        ("0.5", "fl oz/1000 sq ft", "less than the label's lowest"),
        ("0.9", "oz wt/1000 sq ft", "gives its rate as a volume per area"),
        ("0.25", "%", "in the list beside the number, such as fl oz/1,000 sq ft"),
        ("", "fl oz/1000 sq ft", "Enter the rate"),
    ],
)
def test_a_rate_outside_the_label_is_refused_beside_it(
    client: Client, owner: Person, product: Product, number: str, unit: str, words: str
) -> None:
    client.force_login(owner)
    typed = {"name": "E", "product_1": str(product.pk), "rate_1_0": number, "rate_1_1": unit}

    answer = client.post(reverse("new_mix"), typed)

    assert answer.status_code == 422
    assert words in answer.context["form"].errors["rate_1"][0]
    assert not Mix.objects.exists()


def test_a_product_stands_in_a_mix_once(client: Client, owner: Person, product: Product) -> None:
    client.force_login(owner)
    typed = {"name": "Twice"}
    for n in (1, 2):
        typed |= {f"product_{n}": str(product.pk), f"rate_{n}_0": "0.9"}
        typed |= {f"rate_{n}_1": "fl oz/1000 sq ft"}

    answer = client.post(reverse("new_mix"), typed)

    assert "stands in this mix already" in answer.context["form"].errors["rate_2"][0]


def test_another_firms_product_cannot_be_mixed(
    client: Client, stranger: Person, product: Product
) -> None:
    client.force_login(stranger)

    answer = client.post(reverse("new_mix"), {"name": "Theirs", "product_1": str(product.pk)})

    assert answer.status_code == 422
    assert "product_1" in answer.context["form"].errors


def test_a_large_mix_unfolds_what_it_holds(client: Client, office: Person, mix: Mix) -> None:
    client.force_login(office)
    fresh = client.get(reverse("new_mix")).context["form"]

    wrong = client.post(reverse("new_mix"), {"name": "Large", "product_5": "", "rate_5_0": "1"})

    assert not fresh.further_is_used()
    assert [product.name for product, *_ in fresh.rows()] == [
        "product_1",
        "product_2",
        "product_3",
    ]
    assert wrong.status_code == 422
    assert wrong.context["form"].further_is_used()


def test_a_rate_that_cannot_be_right_is_said_beside_it_where_the_label_names_no_range(
    client: Client, owner: Person, product: Product
) -> None:
    Product.objects.update(rate_min=None, rate_max=None)
    client.force_login(owner)

    answer = client.post(
        reverse("new_mix"),
        {"name": "Slip", "product_1": product.pk, "rate_1_0": "1e9", "rate_1_1": "fl oz/gal"},
    )

    assert answer.status_code == 422
    assert "cannot be right" in answer.context["form"].errors["rate_1"][0]
    assert not Mix.objects.exists()
