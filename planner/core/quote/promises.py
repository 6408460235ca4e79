"""What a quote promises to keep away from: for each feature a distance with each tool.

A promise holds for every visit of every option, so it is the least that any of them keeps.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from planner.core.label.methods import Method
from planner.core.shown import said_at_most
from properties.core.features import KINDS, Role
from properties.core.units import Quantity

Json = dict[str, Any]

TOOLS = {
    Method.BOOM: "with the boom",
    Method.HAND_GUN: "with the hand gun",
    Method.BACKPACK: "with the backpack sprayer",
    Method.GRANULAR_OPEN: "with the spreader",
    Method.GRANULAR_DEFLECTOR: "with the spreader and its deflector",
}
_DIGITS = 3


@dataclass(frozen=True)
class Kept:
    """What one tool keeps from one feature at one visit; ``upwind`` is kept where more is.

    That is the side of a feature from which the wind could carry something to it.
    """

    distance: Quantity
    upwind: Quantity


def promises_of(
    collection: Mapping[str, Any], plans: Sequence[tuple[Json, Method]]
) -> tuple[Json, ...]:
    """Promise what every one of some plans keeps, feature by feature.

    Parameters
    ----------
    collection : Mapping of str to object
        What is drawn at the property, as a plan request has it. [degree]
    plans : Sequence of (dict, Method)
        The plan of each visit, worked out for a wind from somewhere, so that it tells the
        distance all round and the one upwind apart; and the method of its machine. [-]

    Returns
    -------
    tuple of dict
        For each protected feature, in the order of the drawing, its ``number``, ``feature``,
        ``kind``, ``name`` and the ``words`` of the promise. [-]

    Raises
    ------
    Nothing
        A distance that nobody knows is not promised.

    References
    ----------
    The plans. Our own rule: a promise is rounded down, never up.
    """
    kept: dict[str, dict[Method, list[Kept]]] = {}
    for plan, method in plans:
        for tool, zone in _zones(plan, method):
            by_tool = kept.setdefault(zone["feature"], {})
            by_tool.setdefault(tool, []).append(_kept(zone))
    protected = [each for each in collection["features"] if _is_protected(each)]
    return tuple(
        {
            "number": number,
            "feature": each["id"],
            "kind": each["properties"]["kind"],
            "name": _name(each["properties"]),
            "words": _words(kept.get(each["id"], {})),
        }
        for number, each in enumerate(protected, 1)
    )


def _zones(plan: Json, method: Method) -> Iterator[tuple[Method, Json]]:
    """Every zone with a known distance, and the tool that keeps it."""
    parts = plan.get("parts") or [{"method": method, "no_spray": plan["no_spray"]}]
    for part in parts:
        for feature in part["no_spray"]["features"]:
            if feature["properties"]["distance"] is not None:
                yield Method(part["method"]), feature["properties"]


def _is_protected(feature: Json) -> bool:
    return KINDS[feature["properties"]["kind"]].role is Role.PROTECTED


def _name(told: Json) -> str:
    return str(told.get("name") or KINDS[told["kind"]].name)


def _kept(zone: Json) -> Kept:
    distance = _quantity(zone["distance"])
    more = zone.get("downwind_distance")
    return Kept(distance, distance if more is None else _quantity(more))


def _quantity(told: Json) -> Quantity:
    return Quantity(told["value"], told["unit"])


def _words(by_tool: Mapping[Method, Sequence[Kept]]) -> str:
    if not by_tool:
        return "We walk round it and do not treat it."
    least = {tool: _least(kept) for tool, kept in by_tool.items()}
    sentences = list(_grouped((tool, _distances(kept)) for tool, kept in least.items()))
    if len(sentences) == 1 and len(by_tool) > 1:
        return f"With every tool we keep {sentences[0][0]}."
    return " ".join(f"{tools} we keep {distances}." for distances, tools in sentences)


def _least(kept: Iterable[Kept]) -> Kept:
    all_kept = list(kept)
    return Kept(
        min((each.distance for each in all_kept), key=lambda distance: distance.si),
        min((each.upwind for each in all_kept), key=lambda distance: distance.si),
    )


def _distances(kept: Kept) -> str:
    if not kept.distance.si:
        return "off it"
    words = f"at least {said_at_most(kept.distance, digits=_DIGITS)} away"
    if kept.upwind.si > kept.distance.si:
        more = said_at_most(kept.upwind, digits=_DIGITS)
        words += f", and {more} where the wind blows toward it"
    return words


def _grouped(told: Iterable[tuple[Method, str]]) -> Iterator[tuple[str, str]]:
    """Say once what all tools keep, and otherwise name them."""
    by_words: dict[str, list[Method]] = {}
    for tool, words in told:
        by_words.setdefault(words, []).append(tool)
    for words, tools in by_words.items():
        named = " and ".join(TOOLS[tool] for tool in tools)
        yield words, named[0].upper() + named[1:]
