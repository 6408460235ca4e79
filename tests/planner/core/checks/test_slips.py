"""Alarms about rates: the wrong area, the wrong ounce, a zero too many."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.checks.slips import slip_findings
from planner.core.label.densities import by_density
from planner.core.label.labels import Form, Label, Limits
from planner.core.mix.products import Product
from planner.core.plan import Plan, plan_from_json
from planner.core.report import plan_as_json
from properties.core.errors import FaultsFound
from properties.core.units import Quantity, parse_quantity
from tests.planner.core.asking import HERBICIDE, asking, codes

RANGE = ("1.0 fl oz/1000 sq ft", "1.5 fl oz/1000 sq ft")


def product(
    rate: str, lowest: str | None = RANGE[0], highest: str | None = RANGE[1], *past: str
) -> Product:
    ends = (None if end is None else parse_quantity(end) for end in (lowest, highest))
    return Product(
        "Invented product",
        parse_quantity(rate),
        Label(rate=Limits(*ends)),
        past_rates=tuple(parse_quantity(each) for each in past),
    )


@pytest.mark.parametrize(
    ("rate", "lowest", "highest", "alarm"),
    [
        ("1.2 fl oz/1000 sq ft", *RANGE, []),
        # A number for 1,000 sq ft typed as one for an acre: 43.56 times too little.
        ("1.2 fl oz/acre", *RANGE, ["rate_for_another_area"]),
        # A number for an acre (44 to 65 fl oz) typed as one for 1,000 sq ft.
        ("52 fl oz/1000 sq ft", *RANGE, ["rate_for_another_area"]),
        ("52 fl oz/acre", *RANGE, []),
        ("4 L/100 m2", "3 L/ha", "5 L/ha", ["rate_for_another_area"]),
        ("4 L/ha", "3 L/100 m2", "5 L/100 m2", ["rate_for_another_area"]),
        # Outside the label, and no slip: the label's own refusal is enough.
        ("2 fl oz/1000 sq ft", *RANGE, []),
        ("0.5 fl oz/1000 sq ft", *RANGE, []),
        # A decimal point lost, either way.
        ("15 fl oz/1000 sq ft", *RANGE, ["rate_ten_times_off"]),
        ("0.1 fl oz/1000 sq ft", *RANGE, ["rate_ten_times_off"]),
        ("2.5 %", "0.125 %", "0.25 %", ["rate_ten_times_off"]),
        # Only one end was copied: the other is thought within ten times of it.
        ("60 fl oz/1000 sq ft", None, RANGE[1], ["rate_for_another_area"]),
        ("1.2 fl oz/acre", RANGE[0], None, ["rate_for_another_area"]),
        ("1.2 fl oz/acre", None, None, []),
    ],
)
def test_a_rate_outside_the_label_is_looked_at_for_a_slip(
    rate: str, lowest: str | None, highest: str | None, alarm: list[str]
) -> None:
    assert codes(slip_findings(product(rate, lowest, highest)).refusals) == alarm


@pytest.mark.parametrize(
    ("rate", "past", "alarm"),
    [
        ("1.2 fl oz/1000 sq ft", ["1.0 fl oz/1000 sq ft"], []),
        ("9.9 fl oz/1000 sq ft", ["1.0 fl oz/1000 sq ft"], []),
        ("10 fl oz/1000 sq ft", ["1.0 fl oz/1000 sq ft"], ["rate_unlike_before"]),
        ("1 fl oz/acre", ["1.0 fl oz/1000 sq ft"], ["rate_unlike_before"]),
        ("1 fl oz/acre", ["1 fl oz/1000 sq ft", "0.05 fl oz/1000 sq ft"], []),
        ("1 fl oz/acre", [], []),
        ("10 fl oz/1000 sq ft", ["1 %"], []),
    ],
)
def test_a_rate_without_a_label_is_compared_with_earlier_plans(
    rate: str, past: list[str], alarm: list[str]
) -> None:
    assert codes(slip_findings(product(rate, None, None, *past)).warnings) == alarm


def test_a_range_copied_from_two_lines_of_the_label_is_told() -> None:
    found = slip_findings(
        product("2 fl oz/1000 sq ft", "1.2 fl oz/1000 sq ft", "52 fl oz/1000 sq ft")
    )

    assert codes(found.warnings) == ["label_range_wide"]


@given(rate=st.floats(min_value=1.0, max_value=1.5), unit=st.sampled_from(["fl oz", "mL", "gal"]))
def test_every_rate_of_a_label_typed_for_the_other_area_is_noticed(rate: float, unit: str) -> None:
    ends = (f"1 {unit}/1000 sq ft", f"1.5 {unit}/1000 sq ft")
    slip = product("1 fl oz/acre", *ends)
    slip = Product(slip.name, Quantity(rate, f"{unit}/acre"), slip.label)

    assert codes(slip_findings(slip).refusals) == ["rate_for_another_area"]


def planned(**changes: Any) -> Plan:
    return plan_from_json(asking(mix=[HERBICIDE | changes]))


def test_a_liquid_by_weight_raises_an_alarm_and_a_powder_by_weight_does_not() -> None:
    by_weight = {
        "rate": "1.2 oz wt/1000 sq ft",
        "label": {"rate_min": "1 oz wt/1000 sq ft", "rate_max": "1.5 oz wt/1000 sq ft"},
    }

    assert codes(planned(**by_weight).warnings) == ["ounces_by_weight"]
    assert codes(planned(**by_weight, formulation="WG").warnings) == []


def test_with_its_density_a_liquid_given_by_weight_is_measured_by_volume() -> None:
    label = {"rate_min": "1 oz wt/1000 sq ft", "rate_max": "1.5 oz wt/1000 sq ft"}

    plan = planned(rate="1.2 oz wt/1000 sq ft", label=label | {"density": "9.6 lb/gal"})

    # 1.2 oz by weight at 9.6 lb/gal = 153.6 oz/128 fl oz = 1.2 oz/fl oz: 1 fl oz exactly.
    assert plan.totals[0].product.rate.to("fl oz/1000 sq ft").value == pytest.approx(1, rel=1e-12)
    assert codes(plan.warnings) == codes(plan.refusals) == []
    (figure,) = [each for each in plan.working if each.key == "products[0].rate_used"]
    assert figure.formula == "8 × rate asked for / density"


@pytest.mark.parametrize(
    ("units", "rate", "result", "formula"),
    [
        ("us", "1 fl oz/1000 sq ft", "0.5 oz wt/1000 sq ft", "rate asked for × density / 8"),
        ("us", "1 %", "0.64 oz wt/gal", "rate asked for × density / 8"),
        ("metric", "10 mL/100 m2", "4.7930570 g/100 m2", "rate asked for × density"),
    ],
)
def test_with_its_density_a_powder_given_by_volume_is_weighed(
    units: str, rate: str, result: str, formula: str
) -> None:
    powder = HERBICIDE | {"formulation": "WG", "rate": rate, "label": {"density": "4 lb/gal"}}

    plan = plan_as_json(plan_from_json(asking(mix=[powder], units=units)))

    (figure,) = [each for each in plan["working"] if each["figure"] == "products[0].rate_used"]
    expected = parse_quantity(result)
    assert figure["result"]["unit"] == expected.unit
    assert figure["result"]["value"] == pytest.approx(expected.value, rel=1e-6)
    assert figure["formula"] == formula


def test_a_powder_by_volume_without_its_density_is_refused_with_the_way_out() -> None:
    with pytest.raises(FaultsFound) as found:
        planned(formulation="WG")

    (fault,) = found.value.faults
    assert fault.field == "mix[0].rate"
    assert "density" in fault.remedy


@pytest.mark.parametrize("rate", ["0.8 fl oz", "3 lb", "20 mL"])
def test_a_rate_without_its_basis_is_asked_what_it_is_for(rate: str) -> None:
    with pytest.raises(FaultsFound) as found:
        planned(rate=rate)

    (fault,) = found.value.faults
    assert fault.problem == f"{rate} does not say what it is for."
    assert f"{rate}/acre" in fault.remedy


def test_a_rate_that_is_of_the_form_already_stays_as_it_was_written() -> None:
    rate = parse_quantity("1.2 oz wt/1000 sq ft")

    assert by_density(rate, density=parse_quantity("9 lb/gal"), form=Form.DRY) is rate
