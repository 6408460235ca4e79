"""The one door: whole plans worked by hand, and what holds for every plan."""

import json
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.plan import Plan, plan_from_json, plan_from_text
from planner.core.report import plan_as_json
from properties.core.errors import FaultsFound
from properties.core.units import quantity_of_si
from tests.planner.core.asking import (
    HERBICIDE,
    LAWN,
    MACHINE,
    area,
    asking,
    codes,
    corners_of,
    place,
    with_machine,
    with_output,
    with_runs,
)

# The plane that the scenarios are given in differs from true areas by parts in a million.
PLACED = 2e-5


def shown(plan: Plan, si: float, unit: str) -> float:
    return quantity_of_si(si, unit).value


def test_a_request_without_any_doubt_has_no_warning_and_no_refusal() -> None:
    plan = plan_from_json(asking())

    assert (plan.warnings, plan.refusals) == ((), ())
    assert plan.mixing_order == plan.request.products


def test_a_lawn_with_a_bed_a_dry_and_a_wet_product_comes_out_as_worked_by_hand() -> None:
    front = area("front", "turf", corners_of(0, 0, 80, 45))
    back = area("back", "turf", corners_of(0, 100, 110, 170))
    bed = area("bed", "flower_bed", corners_of(40, 128, 64, 138), setback="6 ft")
    plan = plan_from_json(
        asking(
            property=place(front, back, bed),
            machine=with_output("0.90 gal/1000 sq ft", swath="5 ft"),
            mix=[
                {"name": "Invented adjuvant", "rate": "0.25 %", "formulation": "adjuvant"},
                {
                    "name": "W-1 (invented)",
                    "rate": "1.2 fl oz/1000 sq ft",
                    "formulation": "SL",
                    "label": {
                        "rate_min": "1.00 fl oz/1000 sq ft",
                        "rate_max": "1.25 fl oz/1000 sq ft",
                        "carrier_min": "0.75 gal/1000 sq ft",
                    },
                },
                {
                    "name": "D-1 (invented)",
                    "rate": "0.15 oz wt/1000 sq ft",
                    "formulation": "WG",
                    "label": {
                        "rate_min": "0.12 oz wt/1000 sq ft",
                        "rate_max": "0.18 oz wt/1000 sq ft",
                    },
                },
            ],
        )
    )

    # 80 × 45 + 110 × 70 = 11,300 sq ft of turf. The bed with 6 ft round it is
    # 24 × 10 + 2 × 6 × 34 + π × 36 = 761.10 sq ft: 10,538.90 are left. A round corner
    # may run 1 cm outside, so the arcs of 37.7 ft take up to 1.2 sq ft more.
    treatment = plan.ground.treatment
    assert shown(plan, treatment.turf_area_m2, "sq ft") == pytest.approx(11_300, rel=PLACED)
    no_spray = 24 * 10 + 2 * 6 * 34 + math.pi * 36
    assert 0 <= shown(plan, treatment.no_spray_area_m2, "sq ft") - no_spray < 1.2 + 11_300 * PLACED
    treatable = shown(plan, treatment.treatable_area_m2, "sq ft")
    assert treatable == pytest.approx(10_538.9, rel=2e-4)
    assert shown(plan, plan.carrier_l, "gal") == pytest.approx(9.485, abs=0.002)
    adjuvant, wet, dry = plan.totals
    assert shown(plan, wet.amount, "fl oz") == pytest.approx(12.647, abs=0.003)
    assert shown(plan, dry.amount, "oz wt") == pytest.approx(1.581, abs=0.001)
    assert shown(plan, adjuvant.amount, "fl oz") == pytest.approx(3.035, abs=0.001)
    # 13 on the jug gives 1.2335; 1.60 on the scale gives 0.1518.
    assert [str(total.measured_in(unit)) for total, unit in ((wet, "fl oz"), (dry, "oz wt"))] == [
        "13 fl oz",
        "1.6 oz wt",
    ]
    rates = [total.rate_after_rounding() or 0 for total in (wet, dry)]
    assert shown(plan, rates[0], "fl oz/1000 sq ft") == pytest.approx(1.2335, abs=0.0003)
    assert shown(plan, rates[1], "oz wt/1000 sq ft") == pytest.approx(0.1518, abs=0.0001)
    assert [product.name[0] for product in plan.mixing_order] == ["D", "W", "I"]
    assert plan.refusals == ()


@pytest.mark.parametrize(
    ("garden_ft", "bed_ft", "treatable", "gallons", "product"),
    [(25, 5, 11_875, 17.8125, 9.5), (5, 25, 10_875, 16.3125, 8.7), (25, 25, 9_375, 14.0625, 7.5)],
)
def test_distances_on_two_sides_come_out_as_worked_by_hand(
    garden_ft: int, bed_ft: int, treatable: float, gallons: float, product: float
) -> None:
    # A lawn of 150 by 100 ft: (150 − garden) × (100 − bed) at 1.5 gal and 0.80 fl oz.
    plan = plan_from_json(
        asking(
            property=place(
                area("lawn", "turf", corners_of(0, 0, 150, 100)),
                area("garden", "garden", corners_of(150, 0, 180, 100), setback=f"{garden_ft} ft"),
                area("bed", "bed", corners_of(0, 100, 150, 106), setback=f"{bed_ft} ft"),
            ),
            machine=with_output("1.5 gal/1000 sq ft"),
            mix=[HERBICIDE | {"rate": "0.80 fl oz/1000 sq ft", "label": {}}],
            measures={"liquid": ["0.5 fl oz"]},
        )
    )

    area_m2 = plan.ground.treatment.treatable_area_m2
    assert shown(plan, area_m2, "sq ft") == pytest.approx(treatable, rel=5e-5)
    assert shown(plan, plan.carrier_l, "gal") == pytest.approx(gallons, rel=5e-5)
    assert shown(plan, plan.totals[0].amount, "fl oz") == pytest.approx(product, rel=5e-5)


def test_a_metric_job_comes_out_as_worked_by_hand() -> None:
    # 70 by 35 m less 3 m along a pond: 2,240 m². At 4 L/100 m² that is 89.6 L, at
    # 30 mL/100 m² 672 mL of product; two tanks of 50 L take 50 and 39.6 L, 1,250 and 990 m²,
    # 375 and 297 mL. The cylinder shows 10 mL: 370 (0.3 % of 375 are nearer 380? both are 5
    # away: the lower) and 300.
    plan = plan_from_json(
        asking(
            units="metric",
            property=place(
                area("lawn", "turf", corners_of(0, 0, 70, 35), unit_m=1),
                area("pond", "pond", corners_of(0, -10, 70, 0), unit_m=1, setback="3 m"),
            ),
            machine=with_output("4 L/100 m2", swath="3 m", tanks=["50 L"]),
            mix=[
                HERBICIDE
                | {
                    "rate": "30 mL/100 m2",
                    "label": {"rate_min": "20 mL/100 m2", "rate_max": "40 mL/100 m2"},
                }
            ],
        )
    )

    report = plan_as_json(plan)
    assert report["treatable_area"]["unit"] == "m2"
    assert report["treatable_area"]["value"] == pytest.approx(2240, rel=3e-5)
    assert report["carrier_volume"] == {"value": pytest.approx(89.6, rel=3e-5), "unit": "L"}
    assert report["output"]["unit"] == "L/100 m2"
    assert [load["volume"]["value"] for load in report["loads"]] == pytest.approx(
        [50, 39.6], rel=1e-4
    )
    assert [load["products"][0]["amount_to_measure"]["value"] for load in report["loads"]] == [
        370,
        300,
    ]
    assert report["products"][0]["amount_to_measure"] == {"value": 670, "unit": "mL"}


def test_the_units_shown_change_no_figure() -> None:
    measures = {"liquid": ["1 fl oz", "0.1 fl oz"], "dry": ["1 g"]}
    us, metric = (
        plan_from_json(asking(units=units, measures=measures)) for units in ("us", "metric")
    )

    assert us.ground == metric.ground
    assert (us.carrier_l, us.output, us.loads, us.totals) == (
        metric.carrier_l,
        metric.output,
        metric.loads,
        metric.totals,
    )


def test_the_same_request_in_other_units_is_the_same_plan() -> None:
    # 1 ft = 0.3048 m, 1 gal = 3.785411784 L, exactly (NIST Handbook 44, Appendix C).
    metric = with_machine(
        swath="3.048 m",
        tanks=["94.6352946 L"],
        calibration={
            "method": "measured_course",
            "course_length": "30.48 m",
            "volumes_used": ["3.785411784 L", "3.82326590184 L", "3.74755766616 L"],
        },
    )

    ours, theirs = plan_from_json(asking()), plan_from_json(metric)

    assert theirs.carrier_l == pytest.approx(ours.carrier_l, rel=1e-12)
    assert [load.fill.volume_l for load in theirs.loads] == pytest.approx(
        [load.fill.volume_l for load in ours.loads], rel=1e-12
    )


def test_the_same_request_gives_the_same_bytes() -> None:
    text = json.dumps(asking(weather={"wind_speed": "6 mph"}))

    first, second = (json.dumps(plan_as_json(plan_from_text(text))) for _ in range(2))

    assert first == second


def test_refusals_of_every_part_are_told_together() -> None:
    pond = area("pond", "pond", corners_of(0, 50, 100, 60))
    request = with_runs("1.0 gal", "1.3 gal", "1.6 gal") | {
        "property": place(LAWN, pond),
        "mix": [
            HERBICIDE
            | {
                "rate": "2 fl oz/1000 sq ft",
                "label": HERBICIDE["label"]
                | {"wind_max": "10 mph", "carrier_min": "5 gal/1000 sq ft"},
            }
        ],
        "weather": {"wind_speed": "11 mph"},
    }

    assert codes(plan_from_json(request).refusals) == [
        "setback_unknown",
        "calibration_scattered",
        "rate_above_label",
        "carrier_below_label",
        "wind_over_label",
    ]


@given(width=st.integers(10, 400), depth=st.integers(10, 400), more=st.integers(1, 100))
def test_a_larger_lawn_never_needs_less(width: int, depth: int, more: int) -> None:
    small, large = (
        plan_from_json(asking(property=place(area("lawn", "turf", corners_of(0, 0, width, side)))))
        for side in (depth, depth + more)
    )

    assert large.ground.treatment.treatable_area_m2 > small.ground.treatment.treatable_area_m2
    assert large.carrier_l > small.carrier_l
    assert large.totals[0].amount > small.totals[0].amount


@given(
    rate=st.decimals("0.5", "2", places=2),
    tank=st.integers(2, 60),
    lowest=st.decimals("0.5", "1", places=2),
    highest=st.decimals("1.05", "2", places=2),
)
def test_what_is_measured_out_never_leaves_the_label(
    rate: Any, tank: int, lowest: Any, highest: Any
) -> None:
    unit = "fl oz/1000 sq ft"
    label = {"rate_min": f"{lowest} {unit}", "rate_max": f"{highest} {unit}"}
    plan = plan_from_json(
        asking(
            machine=MACHINE | {"tanks": [f"{tank} gal"]},
            mix=[HERBICIDE | {"rate": f"{rate} {unit}", "label": label}],
        )
    )

    in_label = lowest <= rate <= highest
    for load in plan.loads:
        effective = load.portions[0].rate_after_rounding
        if effective is not None:
            assert in_label
            assert float(lowest) * (1 - 1e-9) <= shown(plan, effective, unit)
            assert shown(plan, effective, unit) <= float(highest) * (1 + 1e-9)
        else:
            assert plan.refusals


json_values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=12)
    | st.sampled_from(["1 ft", "-1 gal", "1e308 gal/1000 sq ft", "0 %", "1/0", "us", "pond"]),
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4)
    ),
    max_leaves=12,
)


@given(value=json_values)
def test_no_json_value_breaks_the_reader(value: Any) -> None:
    with pytest.raises(FaultsFound):
        plan_from_json(value)


def steps_into(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inner: list[tuple[Any, Any]] = []
    if isinstance(value, dict):
        inner = list(value.items())
    elif isinstance(value, list):
        inner = list(enumerate(value))
    return [path, *(found for step, each in inner for found in steps_into(each, (*path, step)))]


FULL = asking(
    property=place(LAWN, area("bed", "bed", corners_of(10, 10, 20, 20), setback="3 ft")),
    weather={"wind_speed": "6 mph", "wind_from": "270 deg"},
    setback_defaults={"pond": "25 ft"},
    measures={"liquid": ["1 fl oz"]},
    units="us",
)


@given(path=st.sampled_from(steps_into(FULL)[1:]), value=json_values)
def test_no_member_of_a_request_breaks_the_plan(path: tuple[Any, ...], value: Any) -> None:
    request = json.loads(json.dumps(FULL))
    here = request
    for step in path[:-1]:
        here = here[step]
    here[path[-1]] = value

    try:
        plan = plan_from_json(request)
    except FaultsFound:
        return
    json.dumps(plan_as_json(plan), allow_nan=False)


def test_what_stays_in_the_tank_is_mixed_as_strong_as_the_rest() -> None:
    machine = MACHINE | {"tanks": ["4 gal"], "fill_limit": "3 gal", "unsprayable": "0.5 gal"}

    plan = plan_as_json(plan_from_json(asking(machine=machine, measures={"liquid": ["0.1 fl oz"]})))

    # 5 gal on the lawn, 2.5 a time: 3 gal with 3.6 fl oz, then 2.5 gal with 3.0 fl oz.
    assert [load["volume"]["value"] for load in plan["loads"]] == pytest.approx([3, 2.5], rel=2e-5)
    assert plan["loads"][0]["stays"]["value"] == pytest.approx(0.5)
    assert "stays" not in plan["loads"][1]
    measured = [load["products"][0]["amount_to_measure"]["value"] for load in plan["loads"]]
    assert measured == pytest.approx([3.6, 3.0])
    assert plan["mixed_volume"]["value"] == pytest.approx(5.5, rel=2e-5)
    (product,) = plan["products"]
    # 6.6 fl oz in 5.5 gal are 1.2 fl oz/1,000 sq ft.
    assert product["amount"]["value"] == pytest.approx(6.0, rel=2e-5)
    assert product["amount_to_measure"]["value"] == pytest.approx(6.6)
    assert product["rate_after_rounding"]["value"] == pytest.approx(1.2, rel=2e-5)


def test_a_plan_without_a_rest_tells_none() -> None:
    plan = plan_as_json(plan_from_json(asking()))

    assert not {"stays_in_tanks", "mixed_volume"} & set(plan)
    assert "stays" not in plan["loads"][0]
