"""A promise holds at every visit with every tool, and is never wider than what is kept."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.answers import answer
from planner.core.label.methods import Method
from planner.core.quote.promises import promises_of
from properties.core.units import Quantity, parse_quantity
from tests.places import collection, feature, rectangle

LAWN = feature("lawn", "turf", rectangle(0, 0, 500, 400))
POND = feature("pond", "pond", rectangle(380, 320, 80, 60), name="Pond")
DRAWN = collection(LAWN, POND)


def _zones(*distances: tuple[float | None, float | None], unit: str = "ft") -> dict[str, Any]:
    return {
        "features": [
            {
                "properties": {
                    "feature": "pond",
                    "kind": "pond",
                    "name": "Pond",
                    "distance": None if plain is None else {"value": plain, "unit": unit},
                    **(
                        {} if wind is None else {"downwind_distance": {"value": wind, "unit": unit}}
                    ),
                }
            }
            for plain, wind in distances
        ]
    }


def _plan(plain: float | None, wind: float | None = None, unit: str = "ft") -> dict[str, Any]:
    return {"no_spray": _zones((plain, wind), unit=unit)}


def _words(*plans: tuple[dict[str, Any], Method]) -> str:
    (promise,) = promises_of(DRAWN, plans)
    return str(promise["words"])


def test_the_least_of_all_visits_is_promised() -> None:
    words = _words((_plan(25.0), Method.BOOM), (_plan(10.0), Method.BOOM))

    assert words == "With the boom we keep at least 10 ft away."


def test_more_is_promised_only_upwind_and_only_if_every_visit_keeps_it() -> None:
    both = _words((_plan(10.0, 25.0), Method.BOOM), (_plan(12.0, 20.0), Method.BOOM))
    one = _words((_plan(10.0, 25.0), Method.BOOM), (_plan(10.0), Method.BOOM))

    assert both == (
        "With the boom we keep at least 10 ft away, and 20 ft where the wind blows toward it."
    )
    assert one == "With the boom we keep at least 10 ft away."


def test_tools_that_keep_the_same_are_named_together_and_others_apart() -> None:
    parts = [
        {"method": "boom", "no_spray": _zones((10.0, None))},
        {"method": "hand_gun", "no_spray": _zones((3.0, None))},
    ]

    apart = _words(({"parts": parts, "no_spray": _zones()}, Method.BOOM))
    together = _words((_plan(3.0), Method.HAND_GUN), (_plan(3.0), Method.GRANULAR_OPEN))
    some = _words(
        (_plan(3.0), Method.HAND_GUN), (_plan(3.0), Method.GRANULAR_OPEN), (_plan(9.0), Method.BOOM)
    )

    assert apart == (
        "With the boom we keep at least 10 ft away. With the hand gun we keep at least 3 ft away."
    )
    assert together == "With every tool we keep at least 3 ft away."
    assert some == (
        "With the hand gun and with the spreader we keep at least 3 ft away. With the boom we "
        "keep at least 9 ft away."
    )


def test_a_distance_of_nothing_still_keeps_off_the_feature_itself() -> None:
    assert _words((_plan(0.0), Method.BACKPACK)) == "With the backpack sprayer we keep off it."


def test_a_distance_that_nobody_knows_is_not_promised() -> None:
    assert _words((_plan(None), Method.BOOM)) == "We walk round it and do not treat it."


@given(metres=st.floats(min_value=0.05, max_value=300))
def test_a_promise_is_never_rounded_up(metres: float) -> None:
    kept = Quantity(metres, "m").to("ft")

    words = _words((_plan(kept.value, unit="ft"), Method.BOOM))

    promised = words.removeprefix("With the boom we keep at least ").removesuffix(" away.")
    assert parse_quantity(promised).si <= metres * (1 + 1e-12)


@pytest.mark.parametrize("wind_from", ["N", "S", "W"])
def test_what_is_promised_is_what_the_plan_keeps_whatever_the_wind(wind_from: str) -> None:
    lawn_and_pond = {"property": DRAWN, "machine": MACHINE, "mix": []}
    rules = [{"kind": "pond", "distance": "10 ft", "downwind": "25 ft", "source": "Our own"}]

    told = answer(lawn_and_pond | {"setback_rules": rules, "weather": {"wind_from": wind_from}})

    assert _words((told, Method.BOOM)) == (
        "With the boom we keep at least 10 ft away, and 25 ft where the wind blows toward it."
    )


MACHINE = {
    "kind": "boom_sprayer",
    "swath": "10 ft",
    "tanks": ["25 gal"],
    "output": "0.7 gal/1000 sq ft",
}


def test_features_are_numbered_as_on_the_drawing_and_named_by_kind_without_a_name() -> None:
    bed = feature("bed", "flower_bed", rectangle(10, 10, 20, 20))

    told = promises_of(collection(LAWN, bed, POND), [])

    assert [(one["number"], one["name"]) for one in told] == [(1, "Flower bed"), (2, "Pond")]
