"""A price as its page shows it, from the same JSON that is kept with a quote."""

from decimal import Decimal
from typing import Any

from planner.selectors.prices import Priced, as_json
from planner.web.price_picture import make_up_bar

Json = dict[str, Any]


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
        "sureness": _sureness(price),
    }


def _lines(visit: Json, number: int) -> Json:
    """The keys of the steps and costs of a visit, as its working has them."""
    return {
        part: [f"visits[{number}].{line['key']}" for line in visit[part]]
        for part in ("steps", "costs")
    }


def _sureness(price: Json) -> list[str]:
    """The figures that tell how sure the price is, as far as they exist."""
    keys = (
        "low",
        "high",
        "margin_percent",
        "break_even_area",
        "break_even_percent",
        "break_even_visits",
        "gain_of_measuring",
    )
    return [key for key in keys if price[key] is not None]
