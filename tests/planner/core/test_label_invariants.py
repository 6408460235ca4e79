"""What holds of every rate and every lawn: inside the label, in any units, more for more."""

from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.core.mix.measures import USUAL_MEASURES
from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from planner.core.shown import Units
from properties.core.units import Quantity, quantity_of_si
from tests.planner.core.asking import HERBICIDE, area, asking, corners_of, place, with_output

FL_OZ = "fl oz/1000 sq ft"
rates = st.floats(min_value=1.0, max_value=1.5)
sides_ft = st.floats(min_value=20, max_value=300)


def lawn(side_ft: float) -> dict[str, Any]:
    return place(area("lawn", "turf", corners_of(0, 0, side_ft, side_ft)))


def planned(rate: Quantity, side_ft: float, **changes: Any) -> dict[str, Any]:
    label = {
        f"rate_{end}": quantity_of_si(Quantity(value, FL_OZ).si, rate.unit).to_the_last_digit
        for end, value in (("min", 1.0), ("max", 1.5))
    }
    mix = [HERBICIDE | {"rate": rate.to_the_last_digit, "label": label}]
    return plan_as_json(plan_from_json(asking(mix=mix, property=lawn(side_ft), **changes)))


@settings(max_examples=40)
@given(rate=rates, side_ft=sides_ft)
def test_no_rounded_rate_leaves_the_label(rate: float, side_ft: float) -> None:
    plan = planned(Quantity(rate, FL_OZ), side_ft)

    for load in plan["loads"]:
        (product,) = load["products"]
        if product["rate_after_rounding"] is None:
            assert "measure_too_coarse" in {each["code"] for each in plan["refusals"]}
        else:
            assert 1.0 - 1e-9 <= product["rate_after_rounding"]["value"] <= 1.5 + 1e-9


@settings(max_examples=40)
@given(
    rate=rates,
    side_ft=sides_ft,
    unit=st.sampled_from(["mL/100 m2", "L/ha", "pt/acre", "fl oz/acre", "gal/acre"]),
)
def test_the_same_rate_in_other_units_is_the_same_plan(
    rate: float, side_ft: float, unit: str
) -> None:
    asked = Quantity(rate, FL_OZ)
    # On a mark itself the last bit decides, and nobody can measure that.
    one, other = planned(asked, side_ft), planned(asked.to(unit), side_ft)

    amounts = [each["products"][0]["amount_to_measure"] for each in (one, other)]
    assert one["products"][0]["amount"]["value"] == pytest.approx(
        other["products"][0]["amount"]["value"], rel=1e-9
    )
    assume(None not in amounts)
    finest = USUAL_MEASURES[Units.US].liquid[-1].to("fl oz").value
    loads = len(one["loads"])
    assert amounts[0]["value"] == pytest.approx(amounts[1]["value"], abs=loads * finest + 1e-9)


@settings(max_examples=40)
@given(rate=rates, smaller=sides_ft, more=st.floats(min_value=1.01, max_value=1.5))
def test_a_larger_lawn_takes_more_of_everything(rate: float, smaller: float, more: float) -> None:
    asked = Quantity(rate, FL_OZ)

    one, other = planned(asked, smaller), planned(asked, smaller * more)

    assert one["carrier_volume"]["value"] < other["carrier_volume"]["value"]
    assert one["products"][0]["amount"]["value"] < other["products"][0]["amount"]["value"]
    assert len(one["loads"]) <= len(other["loads"])


def test_several_loads_hold_the_published_amounts() -> None:
    # 62,500 sq ft at 2 gal/1,000 sq ft from a tank of 50 gal; 1.5 fl oz/1,000 sq ft of a
    # product and 0.25 % of a surfactant. Worked from the definitions: two full loads for
    # 25,000 sq ft each and one of 25 gal.
    mix = [
        HERBICIDE
        | {"rate": f"1.5 {FL_OZ}", "label": {"rate_min": f"1 {FL_OZ}", "rate_max": f"2 {FL_OZ}"}},
        {
            "name": "Invented surfactant",
            "rate": "0.25 %",
            "formulation": "NIS",
            "label": {"rate_min": "0.1 %", "rate_max": "1 %"},
        },
    ]
    machine = with_output("2 gal/1000 sq ft", tanks=["50 gal"])

    plan = plan_as_json(plan_from_json(asking(mix=mix, machine=machine, property=lawn(250.0))))

    # The lawn is measured on the ellipsoid: 62,500 sq ft to a few parts in a million.
    assert plan["carrier_volume"]["value"] == pytest.approx(125, rel=1e-4)
    assert [round(load["volume"]["value"], 1) for load in plan["loads"]] == [50.0, 50.0, 25.0]
    assert plan["loads"][0]["area"]["value"] == pytest.approx(25_000, rel=1e-9)
    products, surfactants = zip(*(load["products"] for load in plan["loads"]), strict=True)
    assert [each["amount"]["value"] for each in products] == pytest.approx(
        [37.5, 37.5, 18.75], rel=5e-4
    )
    assert [each["amount"]["value"] for each in surfactants] == pytest.approx([16, 16, 8], rel=5e-4)
