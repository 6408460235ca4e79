"""The nozzles of a boom as bars, each as high as what it gave, with the band of the mean."""

from collections.abc import Sequence
from typing import Any, Protocol

#: A bar this far above the mean fills the picture.
HIGHEST = 1.5
HEIGHT, STEP, BAR = 120, 26, 20


class Caught(Protocol):
    """What the picture asks of a nozzle."""

    @property
    def number(self) -> int:
        """Counted from the left."""

    @property
    def deviation(self) -> float:
        """How far it is from the mean of all, as a share."""

    @property
    def is_off(self) -> bool:
        """Whether it is to be cleaned or swapped."""


def nozzle_bars(nozzles: Sequence[Caught]) -> dict[str, Any] | None:
    """Lay the bars out, from the left; nothing where no nozzle was caught on its own."""
    if len(nozzles) < 2:
        return None
    return {
        "width": STEP * len(nozzles) + BAR,
        "height": HEIGHT,
        "mean_y": round(_top(0.0), 1),
        "band_y": round(_top(0.1), 1),
        "band_height": round(_top(-0.1) - _top(0.1), 1),
        "bars": [_bar(place, nozzle) for place, nozzle in enumerate(nozzles)],
    }


def _bar(place: int, nozzle: Caught) -> dict[str, Any]:
    top = _top(nozzle.deviation)
    return {
        "number": nozzle.number,
        "is_off": nozzle.is_off,
        "percent": f"{100 * nozzle.deviation:+.1f} %".replace("-", "−"),
        "x": BAR / 2 + STEP * place,
        "middle": BAR + STEP * place,
        "y": round(top, 1),
        "height": round(HEIGHT - top, 1),
    }


def _top(deviation: float) -> float:
    return HEIGHT * (1 - min(1 + deviation, HIGHEST) / HIGHEST)
