"""A spread pattern as bars, and how even it is at every spacing as lines."""

from collections.abc import Sequence
from typing import Any

WIDTH, HEIGHT = 320, 140
#: The plot of the variation ends here.
MOST_PERCENT = 50


def pattern_bars(catches: Sequence[float]) -> dict[str, Any]:
    """Lay out a bar for each pan, from the left."""
    step, highest = WIDTH / len(catches), max(catches)
    return {
        "width": WIDTH,
        "height": HEIGHT,
        "bars": [
            {
                "pan": place + 1,
                "catch": catch,
                "x": round(step * place + step * 0.1, 2),
                "y": round(HEIGHT * (1 - catch / highest), 2),
                "width": round(step * 0.8, 2),
                "height": round(HEIGHT * catch / highest, 2),
                "is_middle": place == len(catches) // 2,
            }
            for place, catch in enumerate(catches)
        ],
    }


def variation_lines(
    back: Sequence[float], round_: Sequence[float], *, ceiling: float
) -> dict[str, Any]:
    """Lay out the variation of either mode, in percent, from the narrowest spacing on."""
    return {
        "width": WIDTH,
        "height": HEIGHT,
        "back": _line(back),
        "round": _line(round_),
        "ceiling": _y(ceiling),
        "marks": [{"percent": percent, "y": _y(percent)} for percent in (10, 20, 30, 40)],
    }


def _line(percents: Sequence[float]) -> str:
    step = WIDTH / max(len(percents) - 1, 1)
    return " ".join(f"{step * n:.1f},{_y(each):.1f}" for n, each in enumerate(percents))


def _y(percent: float) -> float:
    return round(HEIGHT * (1 - min(percent, MOST_PERCENT) / MOST_PERCENT), 1)
