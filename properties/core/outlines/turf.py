"""The members that only turf has: slope, gate, hand work only, the turfgrasses that grow there."""

import math
from collections.abc import Mapping

from properties.core.features import Role
from properties.core.outlines.draft import Draft
from properties.core.turfgrasses import TURFGRASSES
from properties.core.units import Dimension, Quantity

#: What turf that no machine may work is marked with.
BY_HAND = "hand_tool"
#: A wider gate is no gate.
WIDEST_GATE_M = 100.0


def read_turf_members(draft: Draft, properties: Mapping[str, object]) -> None:
    """Read slope, gate, whether only a hand tool may work here, and what grows; note the faults.

    Parameters
    ----------
    draft : Draft
        The feature they belong to, whose kind has been read. [-]
    properties : Mapping of str to object
        The members as they came. [-]

    Returns
    -------
    None
        What was read is kept in the draft. [-]

    Raises
    ------
    None
        What is wrong is kept in the draft, so that all of it can be told at once.

    References
    ----------
    Common practice: a slope in percent is rise over run.
    """
    draft.slope = _slope(draft, properties)
    draft.gate = draft.quantity(properties, "gate", Dimension.LENGTH)
    draft.by_hand_only = _by_hand_only(draft, properties.get("only"))
    draft.turfgrasses = _turfgrasses(draft, properties.get("turfgrasses"))
    if draft.slope is not None:
        _only_turf(draft, "slope", "has no slope here", "give it to the turf around")
        _check_slope(draft, draft.slope)
    if draft.gate is not None:
        _only_turf(draft, "gate", "has no gate", "give it to the turf behind the gate")
        _check_gate(draft, draft.gate)


def slope_deg(slope: Quantity) -> float:
    """A slope as an angle.

    Parameters
    ----------
    slope : Quantity
        Rise over run as a share, or the angle itself. [% or degree]

    Returns
    -------
    float
        The angle with the horizontal. [degree]

    Raises
    ------
    None
        The caller has checked the unit.

    References
    ----------
    Common practice: a slope in percent is rise over run.
    """
    if slope.dimension is Dimension.ANGLE:
        return slope.si
    return math.degrees(math.atan(slope.si))


def _slope(draft: Draft, properties: Mapping[str, object]) -> Quantity | None:
    slope = properties.get("slope")
    if isinstance(slope, dict):
        return _rise_over_run(draft, slope)
    return draft.quantity(properties, "slope", Dimension.SHARE, Dimension.ANGLE)


def _rise_over_run(draft: Draft, slope: Mapping[str, object]) -> Quantity | None:
    if set(slope) != {"rise", "run"}:
        draft.fault(
            ".properties.slope",
            "This slope is not a rise and a run.",
            'Write for example {"rise": "2 ft", "run": "20 ft"}, or 10 %.',
        )
        return None
    rise, run = (
        draft.quantity({"slope": slope[word]}, "slope", Dimension.LENGTH)
        for word in ("rise", "run")
    )
    if rise is None or run is None:
        return None
    if run.si <= 0:
        draft.fault(
            ".properties.slope",
            f"A run of {run} is not above zero.",
            "Measure how far it is from the foot of the slope to its top, level, and write that.",
        )
        return None
    return Quantity(100 * rise.si / run.si, "%")


def _by_hand_only(draft: Draft, only: object) -> bool:
    if only is None:
        return False
    if only != BY_HAND:
        draft.fault(
            ".properties.only",
            "This is not one of the words known here.",
            f"Write {BY_HAND}, or leave it out where the machine may go.",
        )
        return False
    _only_turf(draft, "only", "is not worked with a tool", "mark the turf around")
    return True


def _turfgrasses(draft: Draft, words: object) -> tuple[str, ...]:
    if words is None:
        return ()
    told = words if isinstance(words, list | tuple) else [None]
    known = [word for word in told if isinstance(word, str) and word in TURFGRASSES]
    if len(known) < len(told):
        draft.fault(
            ".properties.turfgrasses",
            "This is not a list of turfgrasses that are known here.",
            f"Write any of: {', '.join(TURFGRASSES)}.",
        )
        return ()
    _only_turf(draft, "turfgrasses", "has no turfgrass", "tell it of the turf around")
    return tuple(dict.fromkeys(known))


def _only_turf(draft: Draft, word: str, problem: str, remedy: str) -> None:
    if draft.kind is not None and draft.kind.role is not Role.TURF:
        draft.fault(
            f".properties.{word}", f"{draft.kind.name} {problem}.", f"Only turf has one: {remedy}."
        )


def _check_slope(draft: Draft, slope: Quantity) -> None:
    if not 0 <= slope_deg(slope) < 90:
        draft.fault(
            ".properties.slope",
            f"{slope} is not a slope that ground can have.",
            "A slope is 0 or more and less than 90 deg.",
        )


def _check_gate(draft: Draft, gate: Quantity) -> None:
    if not 0 < gate.si <= WIDEST_GATE_M:
        draft.fault(
            ".properties.gate",
            f"{gate} is not the width of a gate.",
            f"A gate is wider than zero and not wider than {WIDEST_GATE_M:.0f} m.",
        )
