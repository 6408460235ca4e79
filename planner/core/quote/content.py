"""The content of a quote: everything the customer reads, as plain JSON that can be frozen.

Costs and margin are not in it: only prices are taken over, and a test holds that.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from planner.core.label.methods import Method
from planner.core.quote.cautions import cautions_of
from planner.core.quote.drawing import Ground, lot_drawing
from planner.core.quote.ground_words import area_words, drawing_words
from planner.core.quote.prices import price_note, price_rows
from planner.core.quote.promises import promises_of
from planner.core.quote.said import quantity_said, window_said
from planner.core.shown import day_said
from properties.core.outlines import Drawing
from properties.core.showing_money import shown_money

Json = dict[str, Any]

FORMAT = 1
LETTERS = "ABCDEFGH"

PROMISE_NOTE = (
    "These distances hold at every visit. On the day, where the wind asks for more, we keep more; "
    "we never go nearer."
)
TERMS = (
    (
        "Accepting orders the visits of the option that you choose, at its price and with its tax. "
        "You can ask anything first."
    ),
    "The dates are the days between which we come. Weather and ground decide the day.",
    (
        "If on the day the label, a rule, the wind or the ground speaks against it, we leave that "
        "ground or come on another day, and tell you."
    ),
    (
        "No treatment can promise a lawn without a weed, a spot or an insect: weather, shade and "
        "soil have their part."
    ),
)


@dataclass(frozen=True)
class Heading:
    """Who writes to whom, about what, and until when it holds."""

    firm: Mapping[str, Any]
    customer: str
    place: Mapping[str, str]
    number: str
    revision: int
    year: int
    written_at: datetime
    written_on: date
    written_by: str
    valid_until: date
    message: str
    units: str


@dataclass(frozen=True)
class VisitTold:
    """One visit: its days, and its request and plan as the one door answered them.

    ``in_wind`` is the plan for a wind from somewhere, for what is promised. ``labels`` are
    the versions of the labels it was planned with.
    """

    name: str
    first: date
    last: date
    method: Method
    request: Json
    plan: Json
    in_wind: Json
    labels: tuple[str, ...]


@dataclass(frozen=True)
class OptionTold:
    """One option with its price as ``price_as_json`` writes it."""

    title: str
    words: str
    visits: tuple[VisitTold, ...]
    price: Json
    programme: str = ""


@dataclass(frozen=True)
class Around:
    """What stands around the options: the drawing, its number, and what the law asks to tell."""

    drawing: Drawing
    drawing_number: int
    notices: tuple[Mapping[str, str], ...]


def quote_content(heading: Heading, options: Sequence[OptionTold], around: Around) -> Json:
    """Write the content of a quote.

    Parameters
    ----------
    heading : Heading
        Who writes to whom. [-]
    options : Sequence of OptionTold
        One to eight options, each with a visit. [-]
    around : Around
        What is drawn at the property, and its notices. [degree]

    Returns
    -------
    dict
        The content. [units of the heading]

    Raises
    ------
    Nothing
        Any plans and prices can be told.

    References
    ----------
    Our own format. The same arguments give the same content.
    """
    visits = [visit for option in options for visit in option.visits]
    plans = [visit.plan for visit in visits]
    grounds = [_ground(plan) for plan in plans]
    promises = promises_of(
        visits[0].request["property"], [(visit.in_wind, visit.method) for visit in visits]
    )
    area = area_words(plans)
    return {
        "format": FORMAT,
        "language": "en",
        **_heading(heading),
        "options": [_option(LETTERS[place], option) for place, option in enumerate(options)],
        "price_rows": price_rows([option.price for option in options]),
        "price_note": price_note([option.price for option in options]),
        "area": {"words": area, "figures": [_areas(plan) for plan in plans]},
        "drawing": lot_drawing(around.drawing, grounds, units=heading.units),
        "drawing_words": drawing_words(str(heading.place["name"]), area, promises),
        "promises": list(promises),
        "promise_note": PROMISE_NOTE,
        "cautions": list(
            cautions_of([(visit.name, visit.request, visit.plan) for visit in visits])
        ),
        "notices": [dict(notice) for notice in around.notices],
        "terms": list(TERMS),
        "made_with": list(dict.fromkeys(_made_with(options, around))),
    }


def _heading(heading: Heading) -> Json:
    return {
        "firm": dict(heading.firm),
        "customer": {"name": heading.customer},
        "place": dict(heading.place),
        "number": heading.number,
        "revision": heading.revision,
        "year": heading.year,
        "units": heading.units,
        "written_at": heading.written_at.isoformat(),
        "written_on": day_said(heading.written_on),
        "written_by": heading.written_by,
        "valid_until": day_said(heading.valid_until),
        "valid_until_day": heading.valid_until.isoformat(),
        "message": heading.message,
    }


def _ground(plan: Json) -> Ground:
    parts = plan.get("parts") or []
    return Ground(plan["treatable"], next((part["shape"] for part in parts[1:]), None))


def _areas(plan: Json) -> Json:
    uncertainty = plan.get("uncertainty") or {}
    told = uncertainty.get("treatable_area") or {}
    return {"treatable": plan["treatable_area"], "plus_minus": told.get("plus_minus")}


def _option(letter: str, option: OptionTold) -> Json:
    price = option.price
    currency = price["currency"]
    prices = [visit["price"] for visit in price["visits"]]
    return {
        "letter": letter,
        "title": option.title,
        "words": option.words,
        "programme": option.programme,
        "currency": currency,
        "total": price["total"],
        "total_words": shown_money(Decimal(price["total"]), currency),
        "net": price["net"],
        "tax": price["tax"],
        "visits": [
            _visit(visit, amount, currency)
            for visit, amount in zip(option.visits, prices, strict=True)
        ],
    }


def _visit(visit: VisitTold, amount: str, currency: str) -> Json:
    return {
        "name": visit.name,
        "from": visit.first.isoformat(),
        "to": visit.last.isoformat(),
        "when": window_said(visit.first, visit.last),
        "area": quantity_said(visit.plan["treatable_area"]),
        "products": [_product(item) for item in visit.request["mix"]],
        "amount": amount,
        "price": shown_money(Decimal(amount), currency),
    }


def _product(item: Json) -> str:
    """Name a product as a customer may look it up: number, what works in it, signal word."""
    label = item.get("label", {})
    fertilizer = item.get("fertilizer")
    works = [each["name"] for each in label.get("active_ingredients", [])]
    told = [
        f"registration {label['registration_number']}" if "registration_number" in label else "",
        f"works by {', '.join(works)}" if works else "",
        f"label says {label['signal_word'].replace('_', ' ').upper()}"
        if "signal_word" in label
        else "",
        f"fertilizer {fertilizer['grade']}" if isinstance(fertilizer, dict) else "",
    ]
    known = "; ".join(words for words in told if words)
    return f"{item['name']} ({known})" if known else str(item["name"])


def _made_with(options: Sequence[OptionTold], around: Around) -> Iterator[str]:
    """Name every version that went into the quote."""
    yield f"drawing {around.drawing_number} of the property"
    for option in options:
        book = option.price["book"]
        yield f"price book {book['name']}, version {book['version']}"
        if option.programme:
            yield f"programme {option.programme}"
        for visit in option.visits:
            yield from visit.labels
