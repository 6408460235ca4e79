"""The lines of a label’s table, and what a mix makes of them."""

import pytest
from django.test import Client
from django.urls import reverse

from planner.models import LabelLine, Mix, Product
from planner.selectors.labels import label_as_asked
from planner.services.labels import keep_label
from planner.services.mixes import keep_mix
from properties.core.units import Quantity
from properties.models import Firm, Person
from tests.work import DONE_AT


def lined(firm: Firm, owner: Person) -> tuple[Product, LabelLine, LabelLine]:
    product = keep_label(
        Product(firm=firm, name="Invented two-way", entered_by=owner, entered_at=DONE_AT),
        setbacks={},
        lines=[
            LabelLine(position=1, target="Small weeds", rate_max=Quantity(1.2, "fl oz/1000 sq ft")),
            LabelLine(position=2, target="One weed", use="spot", rate_max=Quantity(2.0, "%")),
        ],
    )
    small, spot = product.lines.all()
    return product, small, spot


def mixing(product: Product, line: LabelLine, number: str, unit: str) -> dict[str, str]:
    return {
        "name": "Trial",
        "product_1": str(product.pk),
        "line_1": str(line.pk),
        "rate_1_0": number,
        "rate_1_1": unit,
    }


@pytest.mark.parametrize(
    ("number", "words"),
    [
        ("1.3", "highest 1.2 fl oz"),
        # 52 fl oz/acre typed as if for 1,000 sq ft.
        ("52", "for which area is its number"),
    ],
)
def test_a_rate_is_compared_with_the_line_of_the_label_it_is_used_by(
    client: Client, firm: Firm, owner: Person, number: str, words: str
) -> None:
    product, small, _ = lined(firm, owner)
    client.force_login(owner)

    answer = client.post(reverse("new_mix"), mixing(product, small, number, "fl oz/1000 sq ft"))

    assert answer.status_code == 422
    assert words in answer.context["form"].errors["rate_1"][0]


def test_the_plan_asks_with_the_line_and_the_line_cannot_go_while_a_mix_uses_it(
    client: Client, firm: Firm, owner: Person
) -> None:
    product, small, _ = lined(firm, owner)
    client.force_login(owner)
    client.post(reverse("new_mix"), mixing(product, small, "1.1", "fl oz/1000 sq ft"))

    (part,) = Mix.objects.get().parts.all()
    answer = client.post(
        reverse("edit_label", args=[product.pk]),
        {"name": product.name, "line_2_target": "One weed"},
    )

    assert label_as_asked(product, part.line) == {
        "use": "broadcast",
        "rate_max": "1.2 fl oz/1000 sq ft",
    }
    assert answer.status_code == 422
    assert "The mix Trial uses this line" in answer.context["form"].errors["line_1_target"][0]


def test_spots_and_the_whole_turf_cannot_share_a_tank(
    client: Client, firm: Firm, owner: Person, product: Product
) -> None:
    two_way, small, spot = lined(firm, owner)
    other = LabelLine.objects.create(product=product, position=1, target="Any", use="broadcast")
    client.force_login(owner)
    typed = mixing(two_way, spot, "1", "%") | {
        "product_2": str(product.pk),
        "rate_2_0": "0.8",
        "rate_2_1": "fl oz/1000 sq ft",
    }

    mixed = client.post(reverse("new_mix"), typed | {"line_2": str(other.pk)})
    wrong = client.post(reverse("new_mix"), typed | {"line_2": str(small.pk)})

    assert "cannot share a tank" in mixed.context["form"].errors["line_2"][0]
    assert "another product" in wrong.context["form"].errors["line_2"][0]


def test_an_amount_for_each_plant_is_no_rate_for_turf(
    client: Client, firm: Firm, owner: Person
) -> None:
    product, _, spot = lined(firm, owner)
    LabelLine.objects.filter(pk=spot.pk).update(use="per_plant", rate_max=None)
    client.force_login(owner)

    answer = client.post(reverse("new_mix"), mixing(product, spot, "1", "%"))

    assert "for each plant" in answer.context["form"].errors["line_1"][0]


def test_ounces_by_weight_typed_for_fluid_ounces_are_named(
    client: Client, owner: Person, product: Product
) -> None:
    client.force_login(owner)
    typed = {"name": "E", "product_1": str(product.pk), "rate_1_0": "0.8"}

    answer = client.post(reverse("new_mix"), typed | {"rate_1_1": "oz wt/1000 sq ft"})

    assert "no fluid ounce" in answer.context["form"].errors["rate_1"][0]


def test_the_order_of_a_label_is_kept_with_the_mix(
    client: Client, owner: Person, product: Product
) -> None:
    client.force_login(owner)
    typed = {
        "name": "As the label says",
        "product_1": str(product.pk),
        "rate_1_0": "0.8",
        "rate_1_1": "fl oz/1000 sq ft",
        "order_is_from_label": "on",
    }

    client.post(reverse("new_mix"), typed)

    assert Mix.objects.get().order_is_from_label


def test_a_mix_is_kept_without_lines_too(firm: Firm, product: Product) -> None:
    mix = keep_mix(
        Mix(firm=firm, name="Plain"), parts=[(product, Quantity(0.7, "fl oz/1000 sq ft"))]
    )

    assert mix.parts.get().line is None
