"""What a kept request differs in from today's, value by value."""

import copy
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.differences import Difference, Part, differences

REQUEST: dict[str, Any] = {
    "units": "us",
    "property": {"type": "FeatureCollection", "features": []},
    "machine": {
        "kind": "boom_sprayer",
        "swath": "10 ft",
        "tanks": ["25 gal", "12 gal"],
        "calibration": {"method": "measured_course", "volumes_used": ["0.72 gal", "0.70 gal"]},
    },
    "mix": [
        {
            "name": "Broadleaf",
            "rate": "0.8 fl oz/1000 sq ft",
            "formulation": "SL",
            "label": {"rate_max": "1 fl oz/1000 sq ft", "setbacks": {"pond": "25 ft"}},
        },
        {"name": "Surfactant", "rate": "0.25 %"},
    ],
    "setback_defaults": {"pond": "20 ft"},
    "setback_defaults_source": "the firm's own rules on 2026-04-07",
    "setback_rules": [
        {"kind": "pond", "distance": "25 ft", "source": "invented"},
        {"kind": "pond", "distance": "10 ft", "method": "backpack"},
    ],
    "wind_rule": {"hold_over": "10 mph"},
}


def changed(*path: str | int, to: object) -> dict[str, Any]:
    """The request with one member set, or taken out."""
    request: Any = copy.deepcopy(REQUEST)
    inner = request
    for step in path[:-1]:
        inner = inner[step]
    if to is None:
        del inner[path[-1]]
    else:
        inner[path[-1]] = to
    return dict(request)


@pytest.mark.parametrize(
    ("path", "to", "difference"),
    [
        (
            ("mix", 0, "label", "rate_max"),
            "1.1 fl oz/1000 sq ft",
            (Part.LABEL, "Broadleaf, rate max", "1 fl oz/1000 sq ft", "1.1 fl oz/1000 sq ft"),
        ),
        (
            ("mix", 0, "label", "setbacks", "well"),
            "50 ft",
            (Part.LABEL, "Broadleaf, setbacks, well", None, "50 ft"),
        ),
        (("mix", 0, "formulation"), "EC", (Part.LABEL, "Broadleaf, formulation", "SL", "EC")),
        (("mix", 1, "rate"), "0.5 %", (Part.MIX, "Surfactant, rate", "0.25 %", "0.5 %")),
        (("mix", 1), None, (Part.MIX, "Surfactant, rate", "0.25 %", None)),
        (
            ("machine", "calibration", "volumes_used"),
            ["0.80 gal", "0.79 gal"],
            (Part.CALIBRATION, "volumes used", "0.72 gal, 0.70 gal", "0.80 gal, 0.79 gal"),
        ),
        (("machine", "swath"), "8 ft", (Part.MACHINE, "swath", "10 ft", "8 ft")),
        (("machine", "tanks"), ["25 gal"], (Part.MACHINE, "tanks", "25 gal, 12 gal", "25 gal")),
        (("setback_defaults", "pond"), "30 ft", (Part.RULES, "pond", "20 ft", "30 ft")),
        (
            ("setback_rules", 1, "distance"),
            "12 ft",
            (Part.RULES, "pond (2), distance", "10 ft", "12 ft"),
        ),
        (
            ("wind_rule", "hold_over"),
            "12 mph",
            (Part.RULES, "wind rule, hold over", "10 mph", "12 mph"),
        ),
        (("measures",), "cups", (Part.REST, "measures", None, "cups")),
        (("measures",), [{"mark": "1 fl oz"}], (Part.REST, "measures, one, mark", None, "1 fl oz")),
    ],
)
def test_one_value_that_differs_is_told_with_what_it_was_and_is(
    path: tuple[str | int, ...], to: object, difference: tuple[Part, str, str | None, str | None]
) -> None:
    assert differences(REQUEST, changed(*path, to=to)) == (Difference(*difference),)


@pytest.mark.parametrize(
    ("member", "value"),
    [
        ("property", {"features": ["another"]}),
        ("units", "metric"),
        ("weather", {"wind_speed": "6 mph"}),
        ("on", "2026-05-01"),
        ("setback_defaults_source", "the firm's own rules on 2026-05-01"),
    ],
)
def test_the_question_itself_is_no_difference(member: str, value: object) -> None:
    assert differences(REQUEST, REQUEST | {member: value}) == ()


def test_rates_of_earlier_plans_are_no_difference() -> None:
    assert differences(REQUEST, changed("mix", 0, "past_rates", to=["0.7 fl oz/acre"])) == ()


def test_a_product_told_by_its_name_is_found_wherever_it_stands() -> None:
    other_way_round = REQUEST | {"mix": REQUEST["mix"][::-1]}

    assert differences(REQUEST, other_way_round) == ()


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=3),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["name", "kind", "a", "b"]), inner, max_size=3)
    ),
    max_leaves=12,
)
requests = st.dictionaries(st.sampled_from(["mix", "machine", "wind_rule", "x"]), json_values)


@given(before=requests, after=requests)
def test_any_two_requests_compare_and_turned_round_say_the_same_the_other_way(
    before: dict[str, Any], after: dict[str, Any]
) -> None:
    def told(one: dict[str, Any], other: dict[str, Any], *, turned: bool) -> set[object]:
        return {
            (d.part, d.name, d.after, d.before) if turned else (d.part, d.name, d.before, d.after)
            for d in differences(one, other)
        }

    assert differences(before, before) == ()
    assert told(before, after, turned=False) == told(after, before, turned=True)
