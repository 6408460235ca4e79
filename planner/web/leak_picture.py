"""Where money leaks, as bars to either side of a line: left is less than before, right is more."""

from collections.abc import Sequence
from dataclasses import dataclass
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
    shown = [each for each in leaks if _known(each)][:MOST_ROWS]
    if not shown:
        return None
    ends = [float(side.money or 0) for each in shown for side, _ in _known(each)]
    # Room for bands to either side; one that is wider still ends at the edge.
    most = max(abs(end) for end in ends) or 1.0
    low, high = min(0.0, *ends) - most / 2, max(0.0, *ends) + most / 2
    scale = _Scale(low, (WIDTH - 2 * MARGIN) / (high - low))
    return {
        "width": WIDTH,
        "height": ROW * len(shown) + MARGIN,
        "zero": round(scale.x(0.0), 1),
        "rows": [_row(ROW * place, each, scale) for place, each in enumerate(shown)],
    }


@dataclass(frozen=True)
class _Scale:
    """Where an amount of money lies from the left."""

    low: float
    per_money: float

    def x(self, money: float) -> float:
        return min(max(MARGIN + (money - self.low) * self.per_money, 0.0), float(WIDTH))


def _row(top: int, leak: Leaking, scale: _Scale) -> dict[str, Any]:
    return {
        "name": leak.group,
        "text_y": top + 14,
        "top": top + 18,
        "bottom": top + ROW - 2,
        "bars": [
            _bar(side, look, top + 20 + 14 * place, scale)
            for place, (side, look) in enumerate(_known(leak))
        ],
    }


def _bar(side: Compared, look: str, y: int, scale: _Scale) -> dict[str, Any]:
    money, band = float(side.money or 0), float(side.half_width or 0)
    zero, end = scale.x(0.0), scale.x(money)
    return {
        "look": look,
        "y": y,
        "middle": y + 5,
        "x": round(min(zero, end), 1),
        "width": round(abs(end - zero), 1),
        "money": side.money,
        "from": round(scale.x(money - band), 1),
        "to": round(scale.x(money + band), 1),
    }


def _known(leak: Leaking) -> list[tuple[Compared, str]]:
    """The sides of a group of which something is known."""
    sides = ((leak.quote, "quote"), (leak.work, "work"))
    return [(side, look) for side, look in sides if side.money is not None]
