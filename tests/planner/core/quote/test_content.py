"""The content of a quote is what its plans and prices say, in words, and nothing of the cost."""

import json
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

from planner.core.answers import answer
from planner.core.label.methods import Method
from planner.core.quote.content import Around, Heading, OptionTold, VisitTold, quote_content
from properties.core.outlines import read_drawing
from tests.places import small_lot

HEADING = Heading(
    firm={"name": "Thistledown Turf Care", "lines": []},
    customer="M. Sorrel",
    place={"name": "Small lot", "address": "3 Teasel Row"},
    number="2026-014",
    revision=1,
    year=2026,
    written_at=datetime(2026, 4, 8, 12, 15, tzinfo=UTC),
    written_on=date(2026, 4, 8),
    written_by="Olive",
    valid_until=date(2026, 5, 8),
    message="",
    units="us",
)
HERBICIDE = {
    "name": "Invented herbicide",
    "rate": "0.8 fl oz/1000 sq ft",
    "label": {
        "registration_number": "INVENTED-101",
        "signal_word": "danger_poison",
        "active_ingredients": [{"name": "invented phenoxy", "content": "2.4 lb/gal"}],
        "setbacks": {"pond": "25 ft"},
    },
}
FEED = {
    "name": "Invented feed",
    "rate": "6 fl oz/1000 sq ft",
    "fertilizer": {"grade": "18-3-9"},
    "label": {"density": "10 lb/gal"},
}
PLAIN = {"name": "Invented dye", "rate": "0.5 %"}
MACHINE = {
    "kind": "boom_sprayer",
    "swath": "10 ft",
    "tanks": ["25 gal"],
    "output": "0.7 gal/1000 sq ft",
}
HAND_GUN = {
    "kind": "hand_gun",
    "swath": "5 ft",
    "tanks": ["100 gal"],
    "output": "2 gal/1000 sq ft",
}


def _visit(*, name: str = "Spring", **more: Any) -> VisitTold:
    request = {"property": small_lot(), "machine": MACHINE, "mix": [HERBICIDE, FEED, PLAIN]} | more
    return VisitTold(
        name=name,
        first=date(2026, 4, 10),
        last=date(2026, 4, 30),
        method=Method.BOOM,
        request=request,
        plan=answer(request),
        in_wind=answer(request | {"weather": {"wind_from": "N"}}),
        labels=("label of Invented herbicide, version 2",),
    )


def _option(*visits: VisitTold, **more: Any) -> OptionTold:
    price = {
        "book": {"name": "Homes", "version": 3},
        "currency": "USD",
        "visits": [{"price": "61.07", "cost": "40.01"} for _ in visits],
        "discounts": [],
        "taxes": [],
        "net": f"{61.07 * len(visits):.2f}",
        "tax": "0.00",
        "total": f"{61.07 * len(visits):.2f}",
        "cost": "40.01",
        "make_up": [{"key": "make_up.margin", "name": "Margin", "amount": "21.06"}],
    }
    return OptionTold(title="One visit", words="", visits=visits, price=price, **more)


AROUND = Around(
    read_drawing(small_lot()),
    4,
    ({"time": "At each visit", "words": "We put up a sign.", "source": "Invented code"},),
)


def test_products_are_named_as_a_customer_may_look_them_up() -> None:
    content = quote_content(HEADING, [_option(_visit())], AROUND)

    assert content["options"][0]["visits"][0]["products"] == [
        (
            "Invented herbicide (registration INVENTED-101; works by invented phenoxy; label says "
            "DANGER POISON)"
        ),
        "Invented feed (fertilizer 18-3-9)",
        "Invented dye",
    ]


def test_every_version_that_went_into_it_is_named_once() -> None:
    season = _option(_visit(), _visit(name="Summer"), programme="Weeds all year")

    content = quote_content(HEADING, [season, _option(_visit())], AROUND)

    assert content["made_with"] == [
        "drawing 4 of the property",
        "price book Homes, version 3",
        "programme Weeds all year",
        "label of Invented herbicide, version 2",
    ]


def test_options_have_letters_visits_prices_and_days() -> None:
    content = quote_content(
        HEADING, [_option(_visit(), _visit(name="Summer")), _option(_visit())], AROUND
    )

    first, second = content["options"]
    assert (first["letter"], second["letter"]) == ("A", "B")
    assert [visit["name"] for visit in first["visits"]] == ["Spring", "Summer"]
    assert (second["total"], second["total_words"]) == ("61.07", "$61.07")
    visit = second["visits"][0]
    assert (visit["from"], visit["to"]) == ("2026-04-10", "2026-04-30")
    assert (visit["amount"], visit["price"]) == ("61.07", "$61.07")


def test_neither_cost_nor_margin_is_in_it() -> None:
    text = json.dumps(quote_content(HEADING, [_option(_visit())], AROUND))

    assert "40.01" not in text
    assert "21.06" not in text
    assert "argin" not in text


def test_what_the_hand_tool_does_is_drawn_as_such_and_promised_apart() -> None:
    roses = {"kind": "flower_bed", "distance": "8 ft", "source": "Our own", "method": "boom"}
    near = {"kind": "flower_bed", "distance": "2 ft", "source": "Our own", "method": "hand_gun"}
    visit = _visit(
        hand_tool=HAND_GUN,
        mix=[PLAIN],
        setback_rules=[roses, near, {"kind": "pond", "distance": "10 ft", "source": "Our own"}],
    )

    content = quote_content(HEADING, [_option(visit)], AROUND)

    assert "hand" in {area["look"] for area in content["drawing"]["areas"]}
    assert content["promises"][0]["words"] == (
        "With the boom we keep at least 8 ft away. With the hand gun we keep at least 3 ft away."
    )


def test_the_same_arguments_give_the_same_content() -> None:
    options = [_option(_visit())]

    assert quote_content(HEADING, options, AROUND) == quote_content(HEADING, options, AROUND)


def test_the_content_is_plain_json() -> None:
    content = quote_content(replace(HEADING, message="Grüße"), [_option(_visit())], AROUND)

    assert json.loads(json.dumps(content)) == content
