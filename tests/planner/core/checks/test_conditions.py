"""Temperature, rain, turf and adjuvants against what the labels say."""

from typing import Any

import pytest

from planner.core.plan import Plan, plan_from_json
from planner.core.report import plan_as_json
from properties.core.errors import FaultsFound
from tests.planner.core.asking import HERBICIDE, asking, codes

NIS = {"name": "Invented surfactant", "rate": "0.25 %", "formulation": "NIS"}
OIL = {"name": "Invented oil", "rate": "0.5 %", "formulation": "MSO"}
UNKNOWN = {"name": "Invented something", "rate": "0.1 %"}
OTHER_LABEL = {"rate_min": "0.1 %", "rate_max": "1 %"}


def planned(label: dict[str, Any], *others: dict[str, Any], **changes: Any) -> Plan:
    first = HERBICIDE | {"label": HERBICIDE["label"] | label}
    mix = [first, *({"label": OTHER_LABEL} | other for other in others)]
    return plan_from_json(asking(mix=mix, **changes))


@pytest.mark.parametrize(
    ("label", "weather", "refused", "warned"),
    [
        ({"temperature_max": "85 deg F"}, {"temperature": "85 deg F"}, [], []),
        (
            {"temperature_max": "85 deg F"},
            {"temperature": "85.1 deg F"},
            ["temperature_over_label"],
            [],
        ),
        # 30 °C is 86 °F.
        (
            {"temperature_max": "85 deg F"},
            {"temperature": "30 deg C"},
            ["temperature_over_label"],
            [],
        ),
        ({"temperature_max": "85 deg F"}, {"temperature": "29 deg C"}, [], []),
        (
            {"temperature_min": "50 deg F"},
            {"temperature": "9.9 deg C"},
            ["temperature_under_label"],
            [],
        ),
        (
            {"temperature_min": "-5 deg C"},
            {"temperature": "20 deg F"},
            ["temperature_under_label"],
            [],
        ),
        ({"temperature_min": "50 deg F"}, {}, [], ["temperature_unknown"]),
        (
            {"temperature_min": "50 deg F", "temperature_max": "85 deg F"},
            {},
            [],
            ["temperature_unknown"],
        ),
        (
            {"temperature_max": "85 deg F"},
            {"temperature": "80 deg F", "temperature_high": "91 deg F"},
            [],
            ["temperature_rising"],
        ),
        ({"rain_fast": "6 h"}, {"rain_in": "6 h"}, [], []),
        ({"rain_fast": "6 h"}, {"rain_in": "300 min"}, ["rain_too_soon"], []),
        ({"rain_fast": "6 h"}, {}, [], ["rain_unknown"]),
        ({"wind_min": "3 mph"}, {"wind_speed": "3 mph"}, [], []),
        ({"wind_min": "3 mph"}, {}, [], ["wind_unknown"]),
        ({"wind_min": "3 mph", "wind_max": "9 mph"}, {}, [], ["wind_unknown"]),
        ({"wind_min": "4 mph"}, {"wind_speed": "3.5 mph"}, ["wind_under_label"], []),
    ],
)
def test_the_air_is_judged_by_the_label(
    label: dict[str, str], weather: dict[str, str], refused: list[str], warned: list[str]
) -> None:
    plan = planned(label, weather=weather)

    assert codes(plan.refusals) == refused
    assert [code for code in codes(plan.warnings) if code != "wind_not_in_shape"] == warned


def test_a_product_for_spots_says_on_how_much_of_the_turf_it_would_go() -> None:
    (found,) = planned({"use": "spot"}).refusals

    assert found.code == "spots_as_drawn"
    # A lawn of 100 by 50 ft with nothing on it.
    assert "all 5,000 sq ft that are drawn and open" in found.message
    assert codes(planned({"use": "broadcast"}).refusals) == []


@pytest.mark.parametrize(
    ("units", "said"),
    [
        ("us", "it is 30 °C (86 °F) and the label allows 85 °F at most"),
        # (85 − 32) / 1.8 = 29.44: NIST Special Publication 811, appendix B.8.
        ("metric", "it is 30 °C and the label allows 85 °F (29.44 °C) at most"),
    ],
)
def test_a_temperature_is_said_as_it_was_told_and_on_the_readers_scale(
    units: str, said: str
) -> None:
    plan = planned(
        {"temperature_max": "85 deg F"}, weather={"temperature": "30 deg C"}, units=units
    )

    assert said in plan.refusals[0].message


def test_a_temperature_is_asked_for_where_nobody_told_any_weather() -> None:
    assert codes(planned({"temperature_max": "85 deg F"}).warnings) == ["temperature_unknown"]


@pytest.mark.parametrize(
    ("grows", "refused", "warned"),
    [
        (["tall_fescue"], [], []),
        (["fine_fescue"], ["turf_not_tolerant"], []),
        # A mixed stand is judged by the turfgrass that stands the least.
        (["tall_fescue", "fine_fescue"], ["turf_not_tolerant"], []),
        (["perennial_ryegrass"], [], ["turf_tolerance_unsure"]),
        (["bermudagrass"], [], ["turf_tolerance_unsure"]),
        ([], [], ["turfgrass_unknown"]),
    ],
)
def test_turf_is_judged_by_what_the_label_says_of_it(
    grows: list[str], refused: list[str], warned: list[str]
) -> None:
    said = {"tall_fescue": "tolerates", "fine_fescue": "forbidden", "perennial_ryegrass": "caution"}

    plan = planned({"tolerance": said}, turfgrasses=grows)

    assert (codes(plan.refusals), codes(plan.warnings)) == (refused, warned)


@pytest.mark.parametrize(
    ("grows", "refused", "warned"),
    [
        (["tall_fescue"], [], []),
        (["fine_fescue"], ["rate_for_other_turf"], []),
        (["tall_fescue", "fine_fescue"], ["rate_for_other_turf"], []),
        ([], [], ["turfgrass_unknown"]),
    ],
)
def test_a_line_of_a_label_is_for_its_own_turf(
    grows: list[str], refused: list[str], warned: list[str]
) -> None:
    plan = planned({"turf": "tall_fescue"}, turfgrasses=grows)

    assert (codes(plan.refusals), codes(plan.warnings)) == (refused, warned)


def test_a_label_without_turfgrasses_says_nothing_of_them() -> None:
    assert codes(planned({}, turfgrasses=["fine_fescue"]).warnings) == []


@pytest.mark.parametrize(
    ("need", "others", "refused", "warned"),
    [
        ({"NIS": "required"}, [NIS], [], []),
        ({"adjuvant": "required"}, [OIL], [], []),
        ({"NIS": "required"}, [OIL], ["adjuvant_missing"], []),
        ({"NIS": "required"}, [], ["adjuvant_missing"], []),
        ({"MSO": "forbidden"}, [OIL], ["adjuvant_forbidden"], []),
        ({"MSO": "forbidden"}, [NIS], [], []),
        ({"adjuvant": "forbidden"}, [NIS], ["adjuvant_forbidden"], []),
        ({"NIS": "required"}, [UNKNOWN], [], ["adjuvant_unconfirmed"]),
        ({"NIS": "forbidden"}, [UNKNOWN], [], ["adjuvant_unconfirmed"]),
        ({"NIS": "required"}, [NIS, UNKNOWN], [], []),
    ],
)
def test_the_tank_holds_the_adjuvants_that_the_label_asks_for(
    need: dict[str, str], others: list[dict[str, Any]], refused: list[str], warned: list[str]
) -> None:
    plan = planned({"adjuvants": need}, *others)

    assert codes(plan.refusals) == refused
    assert [code for code in codes(plan.warnings) if code.startswith("adjuvant")] == warned


def test_the_longest_time_to_stay_off_holds_for_the_mix() -> None:
    # 40 CFR 170.112(a)(3): of 12, 24 and 4 hours, 24 hold.
    labels = [OTHER_LABEL | {"keep_off": time} for time in ("1 day", "240 min")]
    others = (NIS | {"label": labels[0]}, OIL | {"label": labels[1]})

    plan = plan_as_json(planned({"keep_off": "12 h", "until_dry": True}, *others))

    assert plan["keep_off"] == {"time": {"value": 24.0, "unit": "h"}, "until_dry": True}
    (figure,) = [each for each in plan["working"] if each["figure"] == "keep_off.time"]
    assert [each["value"] for each in figure["inputs"]] == [12.0, 24.0, 4.0]
    assert figure["formula"] == "max(time 1, time 2, time 3)"


def test_what_nobody_copied_is_not_told() -> None:
    plan = plan_as_json(planned({}))

    assert (plan["label_facts"], plan["keep_off"]) == ([], None)


def test_a_label_that_only_says_dry_gives_no_time() -> None:
    plan = plan_as_json(planned({"until_dry": True}))

    assert plan["keep_off"] == {"time": None, "until_dry": True}
    assert plan["label_facts"] == [{"name": "Invented herbicide", "until_dry": True}]


def test_what_was_copied_is_told_under_the_names_of_the_request() -> None:
    copied: dict[str, Any] = {
        "version": 3,
        "registration_number": "INVENTED-7",
        "signal_word": "warning",
        "protection": "Gloves, invented",
        "finest_droplets": "medium",
        "coarsest_droplets": "very_coarse",
        "mixing_notes": "Shake the jug, invented",
    }

    (facts,) = plan_as_json(
        planned(copied | {"water_in": {"within": "1 day"}, "irrigation_hold": "24 h"})
    )["label_facts"]

    assert facts == {
        "name": "Invented herbicide",
        **copied,
        "irrigation_hold": {"value": 24.0, "unit": "h"},
        "water_in": {"depth": None, "within": {"value": 1.0, "unit": "day"}},
    }


@pytest.mark.parametrize(
    ("label", "where", "words"),
    [
        ({"temperature_max": "85 F"}, "temperature_max", "not a unit"),
        ({"temperature_max": "185 deg F"}, "temperature_max", "cannot be right"),
        ({"temperature_min": "80 deg F", "temperature_max": "20 deg C"}, "temperature_min", "more"),
        ({"wind_min": "11 mph", "wind_max": "10 mph"}, "wind_min", "more than 10 mph"),
        ({"keep_off": "-1 h"}, "keep_off", "below zero"),
        ({"signal_word": "careful"}, "signal_word", "not one of the words"),
        ({"finest_droplets": "coarse", "coarsest_droplets": "fine"}, "finest_droplets", "coarser"),
        ({"tolerance": {"moss": "tolerates"}}, "tolerance.moss", "not part of"),
        ({"tolerance": {"tall_fescue": "yes"}}, "tolerance.tall_fescue", "not one of the words"),
        ({"adjuvants": {"SL": "required"}}, "adjuvants.SL", "not part of"),
        ({"water_in": {}}, "water_in", "Nothing is told"),
        ({"water_in": {"depth": "2 m"}}, "water_in.depth", "cannot be right"),
        ({"density": "10 kg/L"}, "density", "cannot be right"),
    ],
)
def test_a_slip_in_a_label_is_said_where_it_is(
    label: dict[str, Any], where: str, words: str
) -> None:
    with pytest.raises(FaultsFound) as found:
        planned(label)

    (fault,) = found.value.faults
    assert fault.field == f"mix[0].label.{where}"
    assert words in fault.problem


def test_an_unknown_turfgrass_is_a_fault() -> None:
    with pytest.raises(FaultsFound) as found:
        planned({}, turfgrasses=["tall_fescue", "moss"])

    assert [fault.field for fault in found.value.faults] == ["turfgrasses[1]"]
