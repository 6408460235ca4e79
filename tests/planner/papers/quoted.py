"""The content of a small invented quote, as it is frozen."""

from typing import Any

from planner.core.quote.drawing import Ground, lot_drawing
from properties.core.outlines import read_drawing
from tests.places import rectangle, small_lot


def visit(name: str, price: str) -> dict[str, Any]:
    """One visit of an option."""
    return {
        "name": name,
        "when": "April 10 to May 2",
        "products": ["Invented broadleaf herbicide (INVENTED-101): invented phenoxy"],
        "price": price,
    }


def content(**changed: Any) -> dict[str, Any]:
    """A quote with two options and two protected features."""
    treated = {"type": "MultiPolygon", "coordinates": [rectangle(20, 20, 100, 300)["coordinates"]]}
    told: dict[str, Any] = {
        "language": "en",
        "number": "2026-014",
        "revision": 2,
        "year": 2026,
        "written_at": "2026-04-08T12:15:00.123456+00:00",
        "written_on": "April 8, 2026",
        "written_by": "Olive",
        "valid_until": "May 8, 2026",
        "firm": {"name": "Thistledown Turf Care", "lines": ["Telephone 555 0100"]},
        "customer": {"name": "M. Sorrel"},
        "place": {"name": "Small lot", "address": "3 Teasel Row, Hazel Ferry"},
        "message": "Thank you for the walk.\n\nWe look forward to your lawn.",
        "options": [
            {
                "letter": "A",
                "title": "Full season",
                "words": "Five rounds.",
                "visits": [visit("Early spring", "$1,052.40"), visit("Late spring", "$52.45")],
            },
            {
                "letter": "B",
                "title": "Single visit",
                "words": "",
                "visits": [visit("Broadleaf weeds", "$61.07")],
            },
        ],
        "price_rows": [
            {"name": "All visits", "amounts": ["$1,104.85", "$61.07"], "strong": False},
            {"name": "To pay", "amounts": ["$1,181.08", "$65.28"], "strong": True},
        ],
        "price_note": "In US dollars.",
        "area": {"words": "We measured 10,118 sq ft of lawn to treat, give or take 210 sq ft."},
        "drawing": lot_drawing(read_drawing(small_lot()), [Ground(treated)], units="us"),
        "drawing_words": "Drawing of Small lot: 10,118 sq ft to treat, two protected features.",
        "promises": [
            {"number": 1, "name": "Rose bed", "words": "With the boom we keep at least 3 ft away."},
            {"number": 2, "name": "Pond", "words": "With the boom we keep at least 25 ft away."},
        ],
        "promise_note": "With wind we keep more.",
        "cautions": ["People and pets stay off for 4 hours."],
        "notices": [
            {"time": "At each visit", "words": "We put up a sign.", "source": "Invented code"}
        ],
        "terms": ["No treatment can promise a lawn without a weed."],
        "made_with": ["drawing 1", "price book 3"],
    }
    return told | changed
