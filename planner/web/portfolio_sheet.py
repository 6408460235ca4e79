"""A portfolio quote as its pages and its file show it, from what was kept."""

from typing import Any

from planner.models import PortfolioLine, PortfolioQuote
from properties.core.sheets.safe_csv import csv_text

HEADINGS = ("Lot", "Address", "Own price", "Share of common areas", "Tax", "To pay", "Currency")


def line_sheet(line: PortfolioLine, *, with_costs: bool) -> dict[str, Any]:
    """Arrange the price of one property: its steps, and its costs for whoever may see them."""
    price = line.price
    working = {entry["figure"]: entry for entry in (*price["working"], *line.shares)}
    parts = ("steps", "costs") if with_costs else ("steps",)
    return {
        "price": price,
        "currency": price["currency"],
        "money_figures": working,
        "with_costs": with_costs,
        "share_keys": [entry["figure"] for entry in line.shares],
        "visits": [
            visit
            | {
                "lines": {
                    part: [f"visits[{n}].{each['key']}" for each in visit[part]] for part in parts
                }
            }
            for n, visit in enumerate(price["visits"])
        ],
    }


def lots_csv(quote: PortfolioQuote) -> str:
    """Write what each lot pays, and what all pay, as a harmless file."""
    currency = quote.terms.get("currency", "")
    lots = quote.lines.filter(is_common=False).select_related("place").defer("price", "shares")
    rows = [
        [
            line.place.name,
            line.place.address,
            *(f"{each:.2f}" for each in (line.own_net, line.common_net, line.tax, line.total)),
            currency,
        ]
        for line in lots
    ]
    whole = ["All lots", "", "", "", *(f"{each or 0:.2f}" for each in (quote.tax, quote.total))]
    return csv_text([HEADINGS, *rows, [*whole, currency]])
