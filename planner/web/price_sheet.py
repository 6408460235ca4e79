"""A price as its page shows it, from the same JSON that is kept with a quote."""

from decimal import Decimal
from typing import Any

from planner.selectors.prices import Priced, as_json
from planner.web.price_picture import make_up_bar

Json = dict[str, Any]

#: What most visits do not have, and what then costs nothing.
UNUSUAL = {"trimming"}


def price_sheet(priced: Priced) -> Json:
    """Arrange a price for its page."""
    price = as_json(priced)
    return {
        "price": price,
        "version": priced.version,
        "money_figures": {entry["figure"]: entry for entry in price["working"]},
        "currency": price["currency"],
        "bar": make_up_bar(price["make_up"], net=Decimal(price["net"])),
        "visits": [
            each | {"place": f"visits[{n}]", "lines": _lines(each, n)}
            for n, each in enumerate(price["visits"])
        ],
        "refusals": priced.refusals,
        "cautions": priced.cautions,
        "left_out": priced.left_out,
        "sureness": _sureness(price),
    }


def _lines(visit: Json, number: int) -> dict[str, list[tuple[str, str]]]:
    """The steps and costs of a visit: the key of the working, and what it is called."""
    return {
        part: [
            (f"visits[{number}].{line['key']}", line["name"])
            for line in visit[part]
            if line["key"] not in UNUSUAL or Decimal(line["amount"])
        ]
        for part in ("steps", "costs")
    }


def _sureness(price: Json) -> list[str]:
    """The figures that tell how sure the price is, as far as they exist."""
    keys = (
        "low",
        "high",
        "break_even_area",
        "break_even_percent",
        "break_even_visits",
        "gain_of_measuring",
    )
    return [key for key in keys if price[key] is not None]
