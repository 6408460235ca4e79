"""Pairs that do not go together, jar tests, hard water, and the steps of a load."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.mix.compatibility import WaterTest
from planner.core.mix.conditioning import conditioner_rate
from planner.core.plan import Plan, plan_from_json
from planner.core.report import plan_as_json
from properties.core.errors import FaultsFound
from properties.core.units import Quantity, parse_quantity
from tests.planner.core.asking import HERBICIDE, asking, codes, with_output

LABEL = {"rate_min": "0.1 %", "rate_max": "1 %"}
NIS = {"name": "Invented surfactant", "rate": "0.25 %", "formulation": "NIS", "label": LABEL}
AMS = {
    "name": "Invented conditioner",
    "rate": "8.5 lb/100 gal",
    "formulation": "ammonium sulfate",
    "label": {"rate_min": "1 lb/100 gal", "rate_max": "17 lb/100 gal"},
}
BOTH = [HERBICIDE["name"], NIS["name"]]


def planned(*others: dict[str, Any], **changes: Any) -> Plan:
    return plan_from_json(asking(mix=[HERBICIDE, *others], **changes))


@pytest.mark.parametrize(
    ("blocks", "names", "refused", "warned"),
    [
        ({}, BOTH, ["do_not_mix"], []),
        ({"blocks": True}, BOTH, ["do_not_mix"], []),
        ({"blocks": False}, BOTH, [], ["mix_with_care"]),
        ({}, [name.upper() for name in reversed(BOTH)], ["do_not_mix"], []),
        ({}, [BOTH[0], "Invented other"], [], []),
    ],
)
def test_a_pair_that_does_not_go_together_is_found_in_a_mix(
    blocks: dict[str, bool], names: list[str], refused: list[str], warned: list[str]
) -> None:
    pair = {"products": names, "source": "label of both, invented", **blocks}

    plan = planned(NIS, do_not_mix=[pair])

    assert (codes(plan.refusals), codes(plan.warnings)) == (refused, warned)


def tried(*products: str, fits: bool = True) -> dict[str, Any]:
    return {"products": list(products), "fits": fits, "on": "2026-04-01", "by": "Cleo"}


@pytest.mark.parametrize(
    ("tests", "refused", "warned"),
    [
        (None, [], []),
        ([], [], ["jar_test_needed"]),
        ([tried(*BOTH)], [], []),
        ([tried(BOTH[0], "Invented other")], [], ["jar_test_needed"]),
        ([tried(*BOTH, "Invented other")], [], ["jar_test_needed"]),
        ([tried(*BOTH, fits=False)], ["jar_test_failed"], []),
        ([tried(*BOTH, fits=False) | {"on": "2026-01-01"}], ["jar_test_failed"], []),
    ],
)
def test_a_mix_that_nobody_tried_is_tried_in_a_jar_first(
    tests: list[dict[str, Any]] | None, refused: list[str], warned: list[str]
) -> None:
    plan = planned(NIS, **({} if tests is None else {"jar_tests": tests}))

    assert (codes(plan.refusals), codes(plan.warnings)) == (refused, warned)


def test_one_product_needs_no_jar_and_four_need_one_whoever_tried_them() -> None:
    more = [NIS | {"name": f"Invented {n}"} for n in (1, 2, 3)]
    names = [HERBICIDE["name"], *(str(each["name"]) for each in more)]

    assert codes(planned(jar_tests=[]).warnings) == []
    assert codes(planned(*more, jar_tests=[tried(*names)]).warnings) == ["jar_test_needed"]


def test_a_failed_test_says_when_and_by_whom_as_far_as_it_is_known() -> None:
    (told,) = planned(NIS, jar_tests=[tried(*BOTH, fits=False)]).refusals
    (bare,) = planned(NIS, jar_tests=[{"products": BOTH, "fits": False}]).refusals

    assert "on 2026-04-01 by Cleo" in told.message
    assert "in a jar. Spray" in bare.message


def test_the_order_of_a_label_beats_the_usual_one() -> None:
    usual = planned(NIS, AMS).mixing_order
    told = planned(
        NIS, AMS | {"formulation": "compatibility agent"}, mixing_order=[*BOTH, AMS["name"]]
    )

    assert [product.name for product in usual] == [AMS["name"], *BOTH]
    assert [product.name for product in told.mixing_order] == [*BOTH, AMS["name"]]


def test_a_told_order_needs_no_formulation() -> None:
    unknown = {name: value for name, value in NIS.items() if name != "formulation"}

    assert codes(planned(unknown).warnings) == ["mixing_order_unconfirmed"]
    assert codes(planned(unknown, mixing_order=BOTH).warnings) == []


# North Dakota State University, Crop & Pest Report, 2 July 2015: lb AMS/100 gal = 0.002 K
# + 0.005 Na + 0.009 Ca + 0.014 Mg + 0.042 Fe, ions in ppm. Worked by hand.
WATERS = [
    ({"calcium": 100}, 0.9),
    ({"magnesium": 100}, 1.4),
    ({"potassium": 10, "sodium": 40, "calcium": 250, "magnesium": 80, "iron": 1}, 3.632),
    ({}, 0.0),
]


@pytest.mark.parametrize(("ions", "pounds"), WATERS)
def test_hard_water_takes_the_published_ammonium_sulfate(
    ions: dict[str, float], pounds: float
) -> None:
    test = WaterTest(**{ion: Quantity(float(ppm), "mg/L") for ion, ppm in ions.items()})

    assert conditioner_rate(test).value == pytest.approx(pounds, abs=1e-9)
    assert conditioner_rate(test).unit == "lb/100 gal"


@pytest.mark.parametrize(
    ("others", "warned"),
    [
        ([AMS], []),
        ([AMS | {"rate": "3 lb/100 gal"}], ["conditioner_too_little"]),
        ([NIS], []),
    ],
)
def test_a_conditioner_is_compared_with_the_water(
    others: list[dict[str, Any]], warned: list[str]
) -> None:
    plan = planned(*others, water_test={"calcium": "400 mg/L"})

    assert codes(plan.warnings) == warned


@pytest.mark.parametrize(
    ("units", "value", "unit"), [("us", 3.6, "lb/100 gal"), ("metric", 4.313753, "g/L")]
)
def test_what_the_water_takes_is_told_with_its_working(units: str, value: float, unit: str) -> None:
    plan = plan_as_json(
        planned(AMS, water_test={"calcium": "400 mg/L", "iron": "0 mg/L"}, units=units)
    )

    told = plan["water_conditioning"]
    assert told["ammonium_sulfate"] == {"value": pytest.approx(value, rel=1e-6), "unit": unit}
    assert told["in_mix"] == AMS["name"]
    assert plan_as_json(planned(water_test={}))["water_conditioning"]["in_mix"] is None
    assert plan_as_json(planned())["water_conditioning"] is None


def test_a_jar_holds_what_the_tank_holds_in_small() -> None:
    # 32 fl oz/acre in 43.56 gal/acre: 0.09183 fl oz in a pint of spray, 2.716 mL. Derived
    # from the units, rate / (8 × gal/acre).
    label = {"rate_min": "30 fl oz/acre", "rate_max": "40 fl oz/acre"}
    herbicide = HERBICIDE | {"rate": "32 fl oz/acre", "label": label}
    request = asking(mix=[herbicide, NIS, AMS], machine=with_output("43.56 gal/acre"))

    jar = plan_as_json(plan_from_json(request))["jar_test"]

    amounts = {each["name"]: each["amount"] for each in jar["products"]}
    assert jar["volume"] == "1 pt"
    assert amounts[HERBICIDE["name"]] == {"value": pytest.approx(2.716, abs=5e-4), "unit": "mL"}
    # A quarter of a percent of 473.18 mL; 8.5 lb/100 gal is 10.185 g/L.
    assert amounts[NIS["name"]]["value"] == pytest.approx(473.176473 * 0.0025, rel=1e-9)
    assert amounts[AMS["name"]] == {"value": pytest.approx(4.8194, abs=1e-3), "unit": "g"}


def test_a_metric_jar_is_half_a_litre() -> None:
    jar = plan_as_json(planned(NIS, units="metric"))["jar_test"]

    assert jar["volume"] == "500 mL"
    assert jar["products"][1]["amount"]["value"] == pytest.approx(1.25, rel=1e-12)


def test_a_load_is_mixed_from_the_first_water_to_the_last() -> None:
    notes = HERBICIDE["label"] | {"mixing_notes": "Shake well, invented"}
    herbicide = HERBICIDE | {"label": notes}
    unknown = {"name": "Invented something", "rate": "0.1 %"}

    plan = plan_as_json(plan_from_json(asking(mix=[herbicide, unknown])))

    (load,) = plan["loads"]
    steps = load["steps"]
    assert [step["do"] for step in steps] == ["first_water", "agitate", "add", "add", "top_up"]
    assert [step.get("name") for step in steps[2:4]] == [HERBICIDE["name"], "Invented something"]
    assert steps[2]["label_says"] == "Shake well, invented"
    assert "Read on its label" in steps[3]["words"]
    water = steps[0]["water"]["value"] + steps[-1]["water"]["value"]
    assert water == pytest.approx(load["water"]["value"], rel=1e-12)


@given(rate=st.floats(0.1, 1.0), share=st.floats(0.1, 1.0))
def test_the_water_of_the_steps_and_the_liquids_fill_the_load(rate: float, share: float) -> None:
    herbicide = HERBICIDE | {
        "rate": f"{rate!r} fl oz/1000 sq ft",
        "label": {"rate_max": "1 fl oz/1000 sq ft", "rate_min": "0.1 fl oz/1000 sq ft"},
    }

    plan = plan_from_json(asking(mix=[herbicide, NIS | {"rate": f"{share!r} %"}]))

    for load in plan_as_json(plan)["loads"]:
        water = sum(step["water"]["value"] for step in load["steps"] if "water" in step)
        liquids = sum(each["amount"]["value"] for each in load["products"]) / 128
        assert water + liquids == pytest.approx(load["volume"]["value"], rel=1e-9)


def test_plain_water_and_a_mix_without_room_for_water_have_no_steps() -> None:
    plain = plan_as_json(plan_from_json(asking(mix=[])))
    strong = plan_as_json(planned(NIS | {"rate": "99.9 %", "label": {}}))

    assert plain["loads"][0]["steps"] == strong["loads"][0]["steps"] == []
    assert plain["jar_test"] is None


@pytest.mark.parametrize(
    ("changes", "where", "words"),
    [
        ({"mixing_order": [BOTH[0]]}, "mixing_order", "every product"),
        ({"mixing_order": [*BOTH, 3]}, "mixing_order[2]", "not a name"),
        ({"do_not_mix": [{"products": ["A"], "source": "x"}]}, "do_not_mix[0].products", "1 item"),
        ({"do_not_mix": [{"products": ["A", "B"]}]}, "do_not_mix[0].source", "missing"),
        ({"do_not_mix": ["A"]}, "do_not_mix[0]", "not an object"),
        ({"jar_tests": [{"products": BOTH}]}, "jar_tests[0].fits", "missing"),
        ({"jar_tests": [{"fits": True}]}, "jar_tests[0].products", "missing"),
        ({"jar_tests": [1]}, "jar_tests[0]", "not an object"),
        ({"water_test": {"calcium": "400 %"}}, "water_test.calcium", "not a weight per volume"),
        ({"water_test": {"calcium": "400 g/L"}}, "water_test.calcium", "cannot be right"),
    ],
)
def test_a_slip_in_what_is_told_of_mixing_is_said_where_it_is(
    changes: dict[str, Any], where: str, words: str
) -> None:
    with pytest.raises(FaultsFound) as found:
        planned(NIS, **changes)

    faults = {fault.field: fault.problem for fault in found.value.faults}
    assert words in faults[where]


def test_spots_and_all_the_turf_do_not_share_a_tank_and_plants_are_no_area() -> None:
    label = HERBICIDE["label"]
    spot = HERBICIDE | {"name": "Invented spot", "label": label | {"use": "spot"}}
    plant = HERBICIDE | {"name": "Invented plant", "label": label | {"use": "per_plant"}}

    assert codes(planned(spot, spots={"drawn": True}).refusals) == ["uses_mixed"]
    assert codes(planned(plant).refusals) == ["rate_for_each_plant"]
    assert codes(plan_from_json(asking(mix=[spot, NIS], spots={"drawn": True})).refusals) == []


def test_an_ion_is_a_weight_in_its_volume_of_water() -> None:
    assert parse_quantity("400 mg/L").si == pytest.approx(0.0004, rel=1e-12)
