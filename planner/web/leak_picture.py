"""Where money leaks, as bars to either side of a line: left is less than before, right is more."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any, Protocol

WIDTH, ROW, MARGIN = 340, 52, 8
MOST_ROWS = 8


class Compared(Protocol):
    """What the picture asks of one side of a leak."""

    @property
    def money(self) -> Decimal | None:
        """How much more it is after than before."""

    @property
    def half_width(self) -> Decimal | None:
        """How much of that comes and goes by chance."""


class Leaking(Protocol):
    """What the picture asks of a group."""

    @property
    def group(self) -> str:
        """Its name."""

    @property
    def quote(self) -> Compared:
        """Planned beyond the quote."""

    @property
    def work(self) -> Compared:
        """Used beyond the plan."""


def leak_bars(leaks: Sequence[Leaking]) -> dict[str, Any] | None:
    """Lay the groups out from above, the first first; nothing where nothing is known."""
    shown = [each for each in leaks if _ends(each)][:MOST_ROWS]
    if not shown:
        return None
    ends = [end for each in shown for end in _ends(each)]
    low, high = min(0.0, *ends), max(0.0, *ends)
    per_money = (WIDTH - 2 * MARGIN) / ((high - low) or 1.0)
    zero = MARGIN - low * per_money
    return {
        "width": WIDTH,
        "height": ROW * len(shown) + MARGIN,
        "zero": round(zero, 1),
        "rows": [_row(place, each, zero, per_money) for place, each in enumerate(shown)],
    }


def _row(place: int, leak: Leaking, zero: float, per_money: float) -> dict[str, Any]:
    top = ROW * place
    sides = ((leak.quote, "quote", top + 20), (leak.work, "work", top + 34))
    known = [each for each in sides if each[0].money is not None]
    return {
        "name": leak.group,
        "text_y": top + 14,
        "bars": [_bar(side, look, y, zero, per_money) for side, look, y in known],
    }


def _bar(side: Compared, look: str, y: int, zero: float, per_money: float) -> dict[str, Any]:
    money = float(side.money or 0)
    end = zero + money * per_money
    reach = float(side.half_width or 0) * per_money
    return {
        "look": look,
        "y": y,
        "middle": y + 5,
        "x": round(min(zero, end), 1),
        "width": round(abs(end - zero), 1),
        "money": side.money,
        "from": round(end - reach, 1),
        "to": round(end + reach, 1),
    }


def _ends(leak: Leaking) -> list[float]:
    """How far the bars of a group and their bands reach."""
    ends = []
    for side in (leak.quote, leak.work):
        if side.money is not None:
            band = float(side.half_width or 0)
            ends += [float(side.money) - band, float(side.money) + band]
    return ends
