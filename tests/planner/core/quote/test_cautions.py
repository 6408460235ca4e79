"""A customer is told how long to stay off, and for which visit."""

from typing import Any

from planner.core.quote.cautions import ALWAYS, NEW_THINGS, cautions_of

SPRAYER = {"machine": {"tanks": ["25 gal"]}, "mix": [{"name": "A", "label": {}}]}
SPREADER = {"machine": {"hopper": "50 lb"}, "mix": [{"name": "B"}]}


def _hours(number: float) -> dict[str, Any]:
    return {"value": number, "unit": "h"}


def _only(*visits: tuple[str, dict[str, Any], dict[str, Any]]) -> list[str]:
    told = cautions_of(visits)
    assert told[: len(ALWAYS)] == ALWAYS
    assert told[-1] == NEW_THINGS
    return list(told[len(ALWAYS) : -1])


def test_how_long_to_stay_off_is_told_with_time_and_dryness() -> None:
    both = {"keep_off": {"time": _hours(4.0), "until_dry": True}}
    dry = {"keep_off": {"time": None, "until_dry": True}}
    time = {"keep_off": {"time": _hours(4.0), "until_dry": False}}

    assert [_only(("Spring", SPREADER, plan))[0] for plan in (both, dry, time)] == [
        (
            "Afterwards people and pets stay off the lawn for at least 4 h and until the spray has "
            "dried."
        ),
        "Afterwards people and pets stay off the lawn until the spray has dried.",
        "Afterwards people and pets stay off the lawn for at least 4 h.",
    ]


def test_the_longest_time_of_several_labels_counts() -> None:
    plan = {"label_facts": [{"irrigation_hold": _hours(12.0)}, {"irrigation_hold": _hours(24.0)}]}

    assert _only(("Spring", SPREADER, plan)) == ["Do not water the lawn for 24 h afterwards."]


def test_what_is_not_for_every_visit_names_the_visits_it_is_for() -> None:
    fed = {"label_facts": [{"water_in": {"depth": {"value": 0.25, "unit": "in"}, "within": None}}]}
    rain = {"label_facts": [{"rain_fast": _hours(6.0)}]}

    told = _only(("Spring", SPREADER, fed), ("Summer", SPREADER, rain), ("Autumn", SPREADER, fed))

    assert told == [
        "Spring and Autumn: Water it in afterwards, 0.25 in, unless rain does it.",
        "Summer: It must stay dry for 6 h afterwards; if rain is near, we come on another day.",
    ]


def test_visits_of_one_name_in_two_options_are_told_once() -> None:
    plan = {"label_facts": [{"irrigation_hold": _hours(24.0)}]}

    assert _only(("Spring", SPREADER, plan), ("Spring", SPREADER, plan)) == [
        "Do not water the lawn for 24 h afterwards."
    ]


def test_watering_in_without_a_depth_asks_for_what_the_firm_will_tell() -> None:
    plan = {"label_facts": [{"water_in": {"depth": None, "within": _hours(24.0)}}]}

    assert _only(("Spring", SPREADER, plan)) == [
        "Water it in afterwards, as we tell you within 24 h, unless rain does it."
    ]


def test_the_strictest_wind_of_firm_and_labels_is_promised_for_spray_alone() -> None:
    request = SPRAYER | {
        "mix": [{"name": "A", "label": {"wind_max": "8 mph"}}, {"name": "B"}],
        "wind_rule": {"hold_above": "10 mph"},
    }

    assert _only(("Spring", request, {})) == [
        "We do not spray in more than 8 mph of wind; we come on another day instead."
    ]
    assert _only(("Spring", request | {"machine": {}}, {})) == []
    assert _only(("Spring", SPRAYER, {})) == []
