"""A quote as a page shows it: the frozen content, its options as cards, its drawing."""

from typing import Any

from planner.web.lot_picture import lot_picture

Json = dict[str, Any]


def quote_sheet(content: Json) -> Json:
    """Arrange the content of a quote for a page."""
    return {
        "content": content,
        "offers": [
            _offer(place, option, content) for place, option in enumerate(content["options"])
        ],
        "paragraphs": [part for part in content["message"].split("\n\n") if part.strip()],
        "picture": lot_picture(content["drawing"]),
    }


def _offer(place: int, option: Json, content: Json) -> Json:
    """Give an option its own column of the prices; a dash stands where it has none."""
    rows = [
        {"name": row["name"], "amount": row["amounts"][place]}
        for row in content["price_rows"]
        if not row["strong"] and row["amounts"][place] != "–"
    ]
    return option | {"rows": rows}
