"""The account of the turf as a page shows it: rows that add up as they are read."""

from dataclasses import dataclass
from typing import Any

from properties.core.showing import shown_unit, steps_that_add_up

Json = dict[str, Any]

#: What is said of turf that is not sprayed.
FATES = {
    "obstacles": "Under obstacles",
    "too_narrow": "Too narrow for any tool of the plan",
    "spared": "The mix is not for this turf",
    "barred": "Closed to every tool of the plan",
    "closed": "Closed on the day",
    "own_ground": "What is protected itself",
    "strip": "Left unsprayed around it",
}
_TREATED = {"machine": "of it by the machine", "hand": "of it by hand"}
_TOO_NARROW = "of it too narrow for the swath"
#: Cards round to whole square feet; here a tenth lets the reader add up.
_PER_UNIT = 10


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """One line of the account; ``is_taken`` is turf that is not treated."""

    words: str
    area: str
    is_taken: bool = False
    is_sum: bool = False


def account_of(plan: Json) -> list[Row]:
    """Lay out what becomes of the turf, or nothing for a plan that was kept without it."""
    account = plan.get("accounting")
    if not account:
        return []
    unit = shown_unit(account["turf_area"]["unit"])
    steps = _steps_by_fate(account)
    treated = {fate: steps[fate] for fate in _TREATED if steps.get(fate)}
    taken = {fate: steps[fate] for fate in FATES if steps.get(fate)}
    return [
        Row(words="Turf", area=_written(sum(steps.values()), unit)),
        *(
            Row(words=FATES[fate], area=_written(count, unit), is_taken=True)
            for fate, count in taken.items()
        ),
        Row(words="Treatable", area=_written(sum(treated.values()), unit), is_sum=True),
        *(
            Row(words=words, area=_written(treated[fate], unit))
            for fate, words in _tools_of(plan).items()
            if len(treated) > 1
        ),
    ]


def _tools_of(plan: Json) -> dict[str, str]:
    """Say who treats a share: one tool alone takes narrow ground too, and says so."""
    return _TREATED if len(plan.get("parts", ())) > 1 else {"hand": _TOO_NARROW}


def _steps_by_fate(account: Json) -> dict[str, int]:
    sums: dict[str, float] = {}
    for share in account["shares"]:
        sums[share["fate"]] = sums.get(share["fate"], 0.0) + share["area"]["value"]
    steps = steps_that_add_up([*sums.values()], account["turf_area"]["value"], per_unit=_PER_UNIT)
    return dict(zip(sums, steps, strict=True))


def _written(steps: int, unit: str) -> str:
    return f"{steps / _PER_UNIT:,.1f} {unit}"
