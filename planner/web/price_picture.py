"""What a price is made of as one bar, a hatch and a hue for each part."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

WIDTH, HEIGHT = 640, 72


def make_up_bar(parts: Sequence[dict[str, str]], *, net: Decimal) -> dict[str, Any]:
    """Lay the parts of a price side by side.

    Where the price does not pay the cost, the bar is the cost, and ``price_x`` marks where
    the price ends.
    """
    told = [(part, Decimal(part["amount"])) for part in parts]
    cost = sum((amount for part, amount in told if not _is_margin(part)), Decimal(0))
    whole = max(net, cost)
    bars, left = [], Decimal(0)
    for part, amount in told:
        word = part["key"].removeprefix("make_up.")
        share = _percent(amount, net)
        shown = max(amount, Decimal(0))
        width = shown / whole * WIDTH if whole else Decimal(0)
        bars.append(
            {
                "key": part["key"],
                "word": word,
                "name": part["name"],
                "amount": part["amount"],
                "percent": share,
                "x": f"{left:.2f}",
                "width": f"{width:.2f}",
                "middle": f"{left + width / 2:.2f}",
                "is_wide": width > 60,
            }
        )
        left += width
    return {
        "width": WIDTH,
        "height": HEIGHT,
        "parts": bars,
        "price_x": f"{net / whole * WIDTH:.2f}" if whole and net < cost else None,
    }


def _is_margin(part: dict[str, str]) -> bool:
    return part["key"] == "make_up.margin"


def _percent(amount: Decimal, net: Decimal) -> str:
    return f"{100 * amount / net:.0f} %".replace("-", "−") if net else "–"
