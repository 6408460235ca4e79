"""What a year leaves, place by place: used, planned and left are the whole limit."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.core.season.rooms import YearlyRoom, rooms_left
from planner.core.shown import SHOWN, Units
from properties.core.errors import FaultsFound
from properties.core.units import quantity_of_si
from tests.planner.core.scenarios import LARKFOOT
from tests.planner.core.season.asking import FRESH, PLAIN, W4

Json = dict[str, Any]
US = SHOWN[Units.US]
RATE = "fl oz/1000 sq ft"
FRONT, BACK = (feature["geometry"] for feature in FRESH["property"]["features"])
FEED = {"fertilizer": {"grade": "20-0-0", "slow_release": "0 %"}, "active_ingredients": []}
NITROGEN = {"nutrient": "N", "per": "year", "at_most": "3 lb/1000 sq ft", "source": "Town code"}


def _question(*history: Json, **more: Any) -> Json:
    return {
        "property": FRESH["property"],
        "products": [W4],
        "on": "2026-12-31",
        "history": list(history),
        "history_since": "2024-01-01",
    } | more


def _had(on: str, where: Json, rate: str = f"1.2 {RATE}", **more: Any) -> Json:
    return {"on": on, "product": "W-4 (invented)", "rate": rate, "where": where} | (more or PLAIN)


def _rooms(question: Json, *, planned: int, nutrients: Json | None = None) -> Any:
    return rooms_left(question, nutrients or {}, planned=planned, shown=US)


def _shown(room: YearlyRoom) -> list[tuple[tuple[str, ...], list[float | None]]]:
    return [
        (
            each.lawns,
            [
                None if amount is None else round(quantity_of_si(amount, room.unit).value, 6)
                for amount in (each.used, each.planned, each.left)
            ],
        )
        for each in room.places
    ]


def test_larkfoot_is_told_by_place_and_not_on_average() -> None:
    # The scenario's own figures: 3.4 a year; the front has had 2.4, the back 1.2, the patch 2.4.
    (room,) = _rooms(_question(*LARKFOOT["history"]), planned=0)

    assert (room.what, room.kind, room.unit) == ("W-4 (invented)", "product", RATE)
    assert _shown(room) == [
        (("Front", "Back"), [2.4, 0.0, 1.0]),
        (("Back",), [1.2, 0.0, 2.2]),
    ]


def test_rounds_of_the_season_are_told_apart_from_the_records() -> None:
    history = [_had("2026-04-10", FRONT), _had("2026-06-01", FRONT), _had("2026-06-01", BACK)]

    (room,) = _rooms(_question(*history), planned=2)

    assert _shown(room) == [(("Front",), [1.2, 1.2, 1.0]), (("Back",), [0.0, 1.2, 2.2])]


def test_what_was_put_down_last_year_does_not_count_in_this_one() -> None:
    (room,) = _rooms(_question(_had("2025-11-20", FRONT)), planned=0)

    assert [left for _, (_, _, left) in _shown(room)] == [3.4]


def test_nitrogen_is_told_by_place_too() -> None:
    history = [
        _had("2026-04-10", FRONT, "4 lb/1000 sq ft", **FEED),
        _had("2026-06-01", BACK, "5 lb/1000 sq ft", **FEED),
    ]
    products = [{"name": "W-4 (invented)", "rate": "4 lb/1000 sq ft", "formulation": "G"}]

    # 20 % of 4 lb are 0.8, of 5 lb 1.0; 3 lb of N are allowed in a year.
    (room,) = _rooms(
        _question(*history, products=products), planned=1, nutrients={"nutrient_limits": [NITROGEN]}
    )

    assert (room.what, room.kind) == ("N", "nutrient")
    assert _shown(room) == [(("Back",), [0.0, 1.0, 2.0]), (("Front",), [0.8, 0.0, 2.2])]


def test_a_limit_that_a_soil_test_lifts_limits_nothing() -> None:
    lifted = NITROGEN | {"unless": "soil_test"}
    test = {"taken": "2025-03-01", "valid_until": "2028-03-01"}

    rooms = _rooms(
        _question(products=[]),
        planned=0,
        nutrients={"nutrient_limits": [lifted], "soil_test": test},
    )

    assert rooms == ()


def test_what_nobody_told_is_unknown_and_never_nothing() -> None:
    unknown = _question(_had("2026-06-01", FRONT), history_since="2026-06-01")
    silent = _question(_had("2026-04-10", FRONT, "2 lb/1000 sq ft", density="9 lb/gal"))
    silent["products"] = []

    (room,) = _rooms(unknown, planned=1)
    (nitrogen,) = _rooms(silent, planned=0, nutrients={"nutrient_limits": [NITROGEN]})

    assert {tuple(told) for _, told in _shown(room)} == {(None, 1.2, None), (None, 0.0, None)}
    assert _shown(nitrogen)[0] == (("Front",), [None, 0.0, None])


def test_without_any_history_only_the_season_is_known() -> None:
    question = _question()
    del question["history"], question["history_since"]

    (room,) = _rooms(question, planned=0)

    assert _shown(room) == [(("Front", "Back"), [None, 0.0, None])]


def test_a_limit_without_a_year_has_no_yearly_room() -> None:
    limits = {"interval": "30 days"}
    product = W4 | {"label": W4["label"] | {"limits": limits}}

    assert _rooms(_question(products=[product]), planned=0) == ()


def test_limits_that_cannot_be_read_are_told() -> None:
    with pytest.raises(FaultsFound):
        _rooms(_question(), planned=0, nutrients={"nutrient_limits": [{"nutrient": "gold"}]})


@settings(max_examples=20)
@given(rates=st.lists(st.integers(1, 20), min_size=1, max_size=4), planned=st.integers(0, 4))
def test_used_planned_and_left_are_the_limit_unless_it_is_passed(
    rates: list[int], planned: int
) -> None:
    history = [
        _had(f"2026-0{month}-01", FRONT, f"{tenths / 10} {RATE}")
        for month, tenths in enumerate(rates, start=3)
    ]

    (room,) = _rooms(_question(*history), planned=min(planned, len(rates)))

    for _, (used, coming, left) in _shown(room):
        assert used is not None
        assert coming is not None
        assert left == pytest.approx(max(0, 3.4 - used - coming), abs=1e-6)
