"""What a place has had, and what a spot or a lawn of it may still get."""

from datetime import date
from typing import Any

import pytest

from planner.core.limits.faces import Piece
from planner.core.place import Place, piece_at, pieces_in, place_of, verdict_on
from planner.core.report.place import asked_as_json, place_as_json
from planner.core.request.place import PlaceQuestion, read_place_question
from planner.core.shown import SHOWN, Units
from properties.core.errors import FaultsFound, Refused
from tests.planner.core.asking import area, corners_of, lonlat, place
from tests.planner.core.scenarios import LARKFOOT, LARKFOOT_BACK, LARKFOOT_FRONT

US = SHOWN[Units.US]
QUESTION: dict[str, Any] = {
    "property": LARKFOOT["property"],
    "products": LARKFOOT["mix"],
    "on": LARKFOOT["on"],
    "history": LARKFOOT["history"],
}


def laid(question: PlaceQuestion) -> Place:
    return place_of(question.drawing, question.past, on=question.on)


def spot(x_ft: float, y_ft: float) -> tuple[float, float]:
    lon, lat = lonlat(x_ft * 0.3048, y_ft * 0.3048)
    return lon, lat


def told_of(piece: Piece | None, question: PlaceQuestion) -> Any:
    assert piece is not None
    there = laid(question)
    verdicts = [verdict_on(product, piece, there) for product in question.products]
    return asked_as_json(piece, verdicts, there, US)


@pytest.mark.parametrize(
    ("where", "had", "room", "open_on"),
    [
        pytest.param((50, 30), 2.4, 1.0, "2026-07-06", id="front"),
        pytest.param((10, 110), 1.2, 2.2, "2026-07-06", id="rest of the back"),
        pytest.param((50, 150), 2.4, 1.0, "2026-07-08", id="patch"),
        # On the border it counts with both sides.
        pytest.param((40, 150), 2.4, 1.0, "2026-07-08", id="edge of the patch"),
    ],
)
def test_a_spot_is_answered_for_itself(
    where: tuple[float, float], had: float, room: float, open_on: str
) -> None:
    question = read_place_question(QUESTION)

    (verdict,) = told_of(piece_at(laid(question), spot(*where)), question)["verdicts"]

    (row,) = verdict["rows"]
    assert row["received"]["value"] == pytest.approx(had)
    assert row["room"]["value"] == pytest.approx(room)
    assert verdict["open"] == (open_on == "2026-07-06")
    assert verdict["open_on"] == open_on
    # What is subtracted is told, so that it can be done again by hand.
    assert sum(term["amount"]["value"] for term in row["terms"]) == pytest.approx(had)


def test_a_spot_beside_the_turf_is_none() -> None:
    assert piece_at(laid(read_place_question(QUESTION)), spot(50, 80)) is None


def test_a_lawn_is_answered_part_by_part() -> None:
    question = read_place_question(QUESTION)

    areas = [piece.geometry.area / 0.3048**2 for piece in pieces_in(laid(question), "back")]

    # Areas of the placed shapes are within 0.2 % of the flat ones.
    assert sorted(areas) == [pytest.approx(500, rel=2e-3), pytest.approx(9150, rel=2e-3)]


def test_a_lawn_that_is_not_there_is_refused() -> None:
    with pytest.raises(Refused, match="no such turf"):
        pieces_in(laid(read_place_question(QUESTION)), "side")


def test_a_lawn_under_a_house_has_no_ground_to_ask_about() -> None:
    house = area("house", "building", corners_of(-10, -10, 110, 70))
    drawn = place(*LARKFOOT["property"]["features"], house)
    question = read_place_question(QUESTION | {"property": drawn})

    assert pieces_in(laid(question), "front") == ()


def test_the_whole_place_is_told_with_what_it_has_had() -> None:
    question = read_place_question(QUESTION | {"history_since": "2026-01-01"})

    told = place_as_json(laid(question), US)

    assert (told["history_known"], told["history_since"]) == (True, "2026-01-01")
    assert [piece["features"] for piece in told["pieces"]] == [["Back"], ["Front"], ["Back"]]
    assert sum(piece["area"]["value"] for piece in told["pieces"]) == pytest.approx(
        15_850, rel=2e-3
    )
    days = [[each["on"] for each in piece["applications"]] for piece in told["pieces"]]
    assert days[1] == ["2026-04-10", "2026-05-20"]


def test_sown_ground_is_told() -> None:
    sown = {"on": "2026-06-01", "where": LARKFOOT["history"][1]["where"]}
    mix = LARKFOOT["mix"][0]
    label = mix["label"] | {"seeding": {"after": "60 days"}}
    question = read_place_question(
        QUESTION | {"seedings": [sown], "products": [mix | {"label": label}]}
    )

    told = told_of(piece_at(laid(question), spot(50, 30)), question)

    assert told["seedings"] == ["2026-06-01"]
    assert told["verdicts"][0]["open_on"] == "2026-07-31"


def test_every_fault_of_a_question_is_told() -> None:
    with pytest.raises(FaultsFound) as found:
        read_place_question({"products": [{"name": "x"}], "spot": [0, 0]})

    assert {fault.field for fault in found.value.faults} == {
        "property",
        "on",
        "products[0].mix[0].rate",
        "spot",
    }
    with pytest.raises(FaultsFound):
        read_place_question([])
    with pytest.raises(FaultsFound):
        read_place_question(QUESTION | {"property": {}})


def test_the_two_lawns_are_where_they_were_drawn() -> None:
    # The corners that the cases above count from.
    assert (LARKFOOT_FRONT, LARKFOOT_BACK) == ((0, 0, 100, 62), (0, 100, 96.5, 200))
    assert read_place_question(QUESTION).on == date(2026, 7, 6)
