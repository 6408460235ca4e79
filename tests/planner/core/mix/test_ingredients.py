"""Active ingredient and acid equivalent against published examples, and in a plan."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.label.labels import Form, Label
from planner.core.label.limits import ActiveIngredient
from planner.core.label.substances import kg_per_amount
from planner.core.mix.ingredients import applied_ingredients
from planner.core.mix.portions import total_of
from planner.core.mix.products import Product
from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from properties.core.errors import FaultsFound
from properties.core.units import Dimension, Quantity, parse_quantity, quantity_of_si
from tests.planner.core.asking import HERBICIDE, asking
from tests.planner.core.published import rows_of

VOLUMES = {Dimension.VOLUME_PER_AREA, Dimension.VOLUME_PER_VOLUME}


@pytest.mark.parametrize("row", rows_of("ingredients.csv"), ids=lambda row: row["case"])
def test_a_published_product_holds_the_published_active_ingredient(row: dict[str, str]) -> None:
    content, product, active = (
        parse_quantity(row[name]) for name in ("content", "product", "active")
    )
    density = parse_quantity(row["density"]) if row["density"] else None
    form = Form.LIQUID if product.dimension in VOLUMES else Form.DRY

    share = kg_per_amount(content, form=form, density=density)

    assert share is not None
    shown = quantity_of_si(product.si * share, active.unit).value
    assert shown == pytest.approx(active.value, abs=float(row["tolerance"]))


@pytest.mark.parametrize("row", rows_of("rate_equivalents.csv"), ids=lambda row: row["case"])
def test_a_published_rate_is_the_same_in_the_other_unit(row: dict[str, str]) -> None:
    rate, same = parse_quantity(row["rate"]), parse_quantity(row["same"])

    shown = quantity_of_si(rate.si, same.unit).value

    assert shown == pytest.approx(same.value, abs=float(row["tolerance"]))


def with_ingredient(units: str = "us", **facts: str) -> dict[str, Any]:
    label = HERBICIDE["label"] | {"active_ingredients": [{"name": "Invented acid", **facts}]}
    return plan_as_json(plan_from_json(asking(mix=[HERBICIDE | {"label": label}], units=units)))


def test_a_plan_tells_the_active_ingredient_and_its_acid_on_the_ground() -> None:
    (told,) = with_ingredient(content="4 lb/gal", acid_equivalent="3.32 lb/gal")[
        "active_ingredients"
    ]

    # 1.2 fl oz/1,000 sq ft × 43.56 / 128 × 4 lb/gal.
    assert told["rate"] == {"value": pytest.approx(1.633500, rel=1e-9), "unit": "lb/acre"}
    assert told["acid_rate"]["value"] == pytest.approx(1.633500 * 3.32 / 4, rel=1e-9)
    # 5,000 sq ft at 1.2 fl oz/1,000 sq ft are 6 fl oz, with half an ounce by weight in each.
    assert told["amount"] == {"value": pytest.approx(3.0, rel=2e-3), "unit": "oz wt"}


def test_in_metric_it_is_the_same_amount_of_the_same_thing() -> None:
    (us,) = with_ingredient(content="4 lb/gal")["active_ingredients"]
    (metric,) = with_ingredient("metric", content="4 lb/gal")["active_ingredients"]

    assert metric["rate"]["unit"] == "kg/ha"
    for name in ("rate", "amount"):
        before, after = (
            parse_quantity(f"{told[name]['value']!r} {told[name]['unit']}") for told in (us, metric)
        )
        assert before.si == pytest.approx(after.si, rel=1e-12)
    assert us["acid_rate"] is None


def test_what_follows_the_spray_has_an_amount_and_no_rate_on_the_ground() -> None:
    product = {
        "name": "Invented adjuvant",
        "rate": "0.5 %",
        "label": {"active_ingredients": [{"name": "Invented oil", "content": "400 g/L",
                                          "acid_equivalent": "300 g/L"}]},
    }  # fmt: skip

    (told,) = plan_as_json(plan_from_json(asking(mix=[product], units="metric")))[
        "active_ingredients"
    ]

    assert (told["rate"], told["acid_rate"]) == (None, None)
    assert told["amount"]["unit"] == "g"


def test_a_share_of_the_weight_of_a_liquid_is_not_told_without_its_density() -> None:
    label = Label(active_ingredients=(ActiveIngredient("Invented acid", Quantity(40.0, "%")),))
    product = Product("Invented", parse_quantity("1 fl oz/1000 sq ft"), label)
    total = total_of(product, (), area_m2=100.0, spray_l=10.0)

    assert applied_ingredients([total]) == ()


def test_content_and_acid_in_two_measures_are_a_fault() -> None:
    with pytest.raises(FaultsFound) as found:
        with_ingredient(content="4 lb/gal", acid_equivalent="30 %")

    (fault,) = [one for one in found.value.faults if one.field.endswith("acid_equivalent")]
    assert "in the same measure" in fault.remedy


@given(content=st.floats(0.1, 12), rate=st.floats(1.0, 1.5))
def test_the_workings_of_an_ingredient_give_its_figures(content: float, rate: float) -> None:
    label = HERBICIDE["label"] | {
        "active_ingredients": [{"name": "Invented acid", "content": f"{content!r} lb/gal"}]
    }
    mix = [HERBICIDE | {"label": label, "rate": f"{rate!r} fl oz/1000 sq ft"}]

    plan = plan_as_json(plan_from_json(asking(mix=mix)))

    (figure,) = [each for each in plan["working"] if each["figure"] == "active_ingredients[0].rate"]
    by_hand = 1.0
    for given_input in figure["inputs"]:
        by_hand *= given_input["value"]
    assert by_hand == pytest.approx(figure["result"]["value"], rel=1e-9)


def test_more_acid_than_content_is_a_fault() -> None:
    with pytest.raises(FaultsFound) as found:
        with_ingredient(content="3.32 lb/gal", acid_equivalent="4 lb/gal")

    assert "4 lb/gal is more than the content" in str(found.value)
