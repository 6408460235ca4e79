"""The drawing of a quote on a page: north up, and no name on another or on a number."""

from typing import Any

import pytest

from planner.web.lot_picture import lot_picture
from tests.planner.papers.quoted import content


def _drawing(**changed: Any) -> dict[str, Any]:
    drawing: dict[str, Any] = content()["drawing"]
    return drawing | changed


def _name(text: str, x: float, y: float, room: float = 20.0) -> dict[str, Any]:
    return {"text": text, "at": [x, y], "room": room}


def test_north_is_up() -> None:
    picture = lot_picture(
        _drawing(numbers=[], names=[_name("South", 20, 5), _name("North", 20, 30)])
    )

    heights = {name["text"]: float(name["y"]) for name in picture["names"]}
    assert heights["North"] < heights["South"]


@pytest.mark.parametrize(
    ("names", "kept"),
    [
        ([_name("Lawn", 20, 20), _name("House", 20, 20.5, 15.0)], ["Lawn"]),
        ([_name("Lawn", 20, 20), _name("House", 20, 30, 15.0)], ["Lawn", "House"]),
        ([_name("A strip with a long name", 20, 20, 1.0)], []),
        ([_name("Lawn", 10, 10)], []),
    ],
    ids=["one on another", "apart", "no room", "on a number"],
)
def test_a_name_stands_where_it_lies_on_nothing_else(
    names: list[dict[str, Any]], kept: list[str]
) -> None:
    numbers = [{"number": 1, "feature": "roses", "at": [10, 10]}]

    picture = lot_picture(_drawing(numbers=numbers, names=names))

    assert [name["text"] for name in picture["names"]] == kept


def test_the_key_tells_what_is_drawn_and_nothing_else() -> None:
    assert [look for look, _ in lot_picture(_drawing())["key"]] == [
        "treatable",
        "left",
        "obstacle",
        "water",
        "plants",
    ]
