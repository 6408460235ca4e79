"""The cost and the margin of one option, for the owner alone, from the JSON that is kept."""

from decimal import Decimal
from typing import Any

from planner.web.price_picture import make_up_bar

Json = dict[str, Any]


def margin_sheet(price: Json) -> Json:
    """Arrange what an option costs and leaves for its page."""
    return {
        "price": price,
        "currency": price["currency"],
        "money_figures": {entry["figure"]: entry for entry in price["working"]},
        "bar": make_up_bar(price["make_up"], net=Decimal(price["net"])),
        "break_even": [
            key for key in ("break_even_area", "break_even_percent") if price.get(key) is not None
        ],
    }
