"""Rounds to ask about in tests: the commons of Larkfoot (invented) with nothing put down yet."""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from planner.core.season.verdicts import RoundAsked
from planner.core.season.windows import Window
from tests.planner.core.scenarios import LARKFOOT

Json = dict[str, Any]
W4 = LARKFOOT["mix"][0]
FRESH: Json = LARKFOOT | {"history": [], "history_since": "2024-01-01"}
#: W-4 is no fertilizer, and nothing in it is limited by its substance.
PLAIN: Json = {"active_ingredients": [], "fertilizer": False}


def asked(
    number: int,
    day: str,
    request: Json = FRESH,
    *,
    days: int = 14,
    contents: Mapping[str, Json] | None = None,
) -> RoundAsked:
    """A round from a day on, two weeks long unless told."""
    first = date.fromisoformat(day)

    def request_on(on: date) -> Json:
        return request | {"on": on.isoformat()}

    names = [product["name"] for product in request["mix"]]
    return RoundAsked(
        number,
        f"Weeds {number}",
        Window(first, first + timedelta(days=days - 1)),
        first,
        request_on,
        contents or dict.fromkeys(names, PLAIN),
    )


def at(rate: str, request: Json = FRESH) -> Json:
    """The commons with W-4 at another rate."""
    return request | {"mix": [W4 | {"rate": rate}]}


def with_label(**label: Any) -> Json:
    """The commons with more on the label of W-4."""
    limits = W4["label"]["limits"] | label.pop("limits", {})
    return FRESH | {"mix": [W4 | {"label": W4["label"] | label | {"limits": limits}}]}
