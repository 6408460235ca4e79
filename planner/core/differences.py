"""In what a plan request differs from another for the same question.

For a plan that was kept: the request as it was frozen against the one that would be
written today. The drawing, the wind, the day and what the place has had are the question, not
an answer to it, so they are left out.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

Path = tuple[str, ...]

#: Members of a request that the person asked for, or that only name where a value is from.
_NOT_COMPARED = {
    "property",
    "units",
    "weather",
    "on",
    "passes",
    "tank_now",
    "setback_defaults_source",
    "history",
    "history_since",
    "seedings",
    "nutrients_so_far",
    "nutrients_lately",
    "first_pass_used",
}
#: What grows with every plan that is kept or sprayed, wherever it stands.
_GROWING = {"past_rates", "area_since", "area_since_is_least"}
_RULES = {
    *("setback_defaults", "setback_rules", "wind_rule", "position_errors", "blackouts"),
    *("nutrient_limits", "soil_test"),
}


class Part(StrEnum):
    """Which part of a request differs."""

    LABEL = "label"
    MIX = "mix"
    CALIBRATION = "calibration"
    MACHINE = "machine"
    RULES = "rules"
    REST = "rest"


@dataclass(frozen=True)
class Difference:
    """One value that differs: where it stands, what it was, what it is; None is not given."""

    part: Part
    name: str
    before: str | None
    after: str | None


def differences(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[Difference, ...]:
    """Find every value in which two plan requests differ, the drawing left out.

    Parameters
    ----------
    before : Mapping of str to object
        A plan request as docs/plan-request.md lists it. [units as typed]
    after : Mapping of str to object
        The other request. [units as typed]

    Returns
    -------
    tuple of Difference
        What differs, in the order of the first request, then what only the second
        has. [units as typed]

    Raises
    ------
    None
        Any two requests can be compared, whatever members they have.

    References
    ----------
    Our own rule.
    """
    old, new = (dict(_values(request)) for request in (before, after))
    return tuple(
        Difference(_part_of(path), _name_of(path), old.get(path), new.get(path))
        for path in (*old, *(path for path in new if path not in old))
        if old.get(path) != new.get(path)
    )


def _values(request: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
    for member, value in request.items():
        if member not in _NOT_COMPARED:
            yield from _flat((member,), value)


def _flat(path: Path, value: object) -> Iterator[tuple[Path, str]]:
    """Every value with the way to it; a list of plain values is one value."""
    if isinstance(value, Mapping):
        for name, inner in value.items():
            if name not in _GROWING:
                yield from _flat((*path, str(name)), inner)
    elif isinstance(value, list) and value and all(isinstance(one, Mapping) for one in value):
        seen: dict[str, int] = {}
        for item in value:
            called = str(item.get("name") or item.get("kind") or "one")
            seen[called] = seen.get(called, 0) + 1
            again = f" ({seen[called]})" if seen[called] > 1 else ""
            rest = {name: inner for name, inner in item.items() if name != "name"}
            yield from _flat((*path, called + again), rest)
    elif isinstance(value, list):
        yield path, ", ".join(str(one) for one in value)
    else:
        yield path, str(value)


def _part_of(path: Path) -> Part:
    if path[0] in _RULES:
        return Part.RULES
    if path[0] == "mix":
        return Part.LABEL if {"label", "formulation"} & set(path) else Part.MIX
    if "calibration" in path:
        return Part.CALIBRATION
    return Part.MACHINE if path[0] == "machine" else Part.REST


def _name_of(path: Path) -> str:
    """Say where a value stands, without the words that its part says already."""
    said = {"mix", "machine", "calibration", "label", "setback_defaults", "setback_rules"}
    words = [word.replace("_", " ") for word in path if word not in said]
    return ", ".join(words) or path[-1].replace("_", " ")
