"""The members of a drawn feature beside its outline: id, kind, name, setback, slope."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from properties.core.errors import Refused
from properties.core.features import Kind, Role, kind_named
from properties.core.outlines.drawing import Note, ShapeFault
from properties.core.units import Dimension, Quantity, parse_quantity

MOST_LETTERS = 200
#: A longer setback is a slip of the unit: no rule for turf asks for a tenth of it.
LONGEST_SETBACK_M = 5000.0


@dataclass
class Draft:
    """A feature while it is being read: what is known so far, and what is wrong with it."""

    index: int
    ref: str
    where: str
    kind: Kind | None = None
    name: str = ""
    setback: Quantity | None = None
    slope: Quantity | None = None
    faults: list[Refused] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)

    @property
    def title(self) -> str:
        """What to call the shape in a sentence."""
        return self.name or self.ref

    def fault(
        self, path: str, problem: str, remedy: str, at: tuple[float, float] | None = None
    ) -> None:
        """Add what is wrong with a member of this feature."""
        self.faults.append(
            ShapeFault(f"{self.where}{path}", problem, remedy, shape=self.ref, at_lonlat=at)
        )

    def note(self, code: str, message: str) -> None:
        """Add what was mended, once."""
        note = Note(self.ref, message, code)
        if note not in self.notes:
            self.notes.append(note)


def read_members(features: Sequence[object]) -> list[Draft]:
    """Read everything but the outline of each feature; faults and notes stay with each.

    Parameters
    ----------
    features : Sequence of object
        The features as they came. [-]

    Returns
    -------
    list of Draft
        One draft for each feature, in the same order. [-]

    Raises
    ------
    None
        What is wrong is kept in each draft, so that all of it can be told at once.

    References
    ----------
    Butler, H. et al. (2016), The GeoJSON Format, RFC 7946, section 3.2.
    """
    drafts = _name_all(features)
    for draft, feature in zip(drafts, features, strict=True):
        if not isinstance(feature, dict) or feature.get("type") != "Feature":
            draft.fault(
                "",
                "This is not a GeoJSON Feature.",
                'A feature is an object with "type": "Feature", properties and a geometry.',
            )
            continue
        properties = feature.get("properties")
        if not isinstance(properties, dict):
            draft.fault(
                ".properties",
                "The properties of this shape are missing.",
                'Give at least the kind, for example {"kind": "turf"}.',
            )
            continue
        _read_properties(draft, properties)
    return drafts


def _name_all(features: Sequence[object]) -> list[Draft]:
    given = [feature.get("id") if isinstance(feature, dict) else None for feature in features]
    taken = {str(one) for one in given if _is_text(one) or _is_whole(one)}
    drafts: list[Draft] = []
    seen: dict[str, int] = {}
    for index, raw in enumerate(given):
        drafts.append(_named(index, raw, taken))
        ref = drafts[-1].ref
        if ref in seen:
            drafts[-1].fault(
                ".id",
                f"The id “{ref}” is used twice, first by features[{seen[ref]}].",
                "Give each shape an id of its own.",
            )
        seen.setdefault(ref, index)
    return drafts


def _named(index: int, raw: object, taken: set[str]) -> Draft:
    if _is_text(raw) or _is_whole(raw):
        ref = str(raw)
        draft = Draft(index, ref, f'features[{index}] "{ref}"')
        if not isinstance(raw, str):
            draft.note("id_read_as_text", f"The id {ref} is a number and was read as text.")
        return draft
    ref = next(
        name
        for count in range(len(taken) + 1)
        if (name := f"shape-{index + 1}" + f"-{count}" * (count > 0)) not in taken
    )
    draft = Draft(index, ref, f"features[{index}]")
    if raw is None or raw == "":
        draft.note("id_given", f"A shape without an id is called “{ref}”.")
    else:
        draft.fault(
            ".id",
            "This id cannot be used.",
            f"An id is a text of 1 to {MOST_LETTERS} printable characters.",
        )
    return draft


def _is_text(raw: object) -> bool:
    return isinstance(raw, str) and 0 < len(raw) <= MOST_LETTERS and raw.isprintable()


def _is_whole(raw: object) -> bool:
    return isinstance(raw, int) and not isinstance(raw, bool) and abs(raw) < 10**18


def _read_properties(draft: Draft, properties: dict[str, Any]) -> None:
    try:
        draft.kind = kind_named(properties.get("kind"))
    except Refused as refused:
        draft.fault(".properties.kind", refused.problem, refused.remedy)
    name = properties.get("name")
    if _is_text(name):
        draft.name = str(name)
    elif name not in (None, ""):
        draft.fault(
            ".properties.name",
            "This name cannot be used.",
            f"A name is a text of at most {MOST_LETTERS} printable characters.",
        )
    draft.setback = _quantity(draft, properties, "setback", Dimension.LENGTH)
    draft.slope = _quantity(draft, properties, "slope", Dimension.SHARE, Dimension.ANGLE)
    _check_setback(draft)
    _check_slope(draft)


def _quantity(
    draft: Draft, properties: dict[str, Any], word: str, *kinds: Dimension
) -> Quantity | None:
    raw = properties.get(word)
    if raw is None:
        return None
    try:
        return parse_quantity(raw, *kinds)
    except Refused as refused:
        draft.fault(f".properties.{word}", refused.problem, refused.remedy)
        return None


def _check_setback(draft: Draft) -> None:
    if draft.setback is None:
        return
    if draft.kind is not None and draft.kind.role is Role.TURF:
        draft.fault(
            ".properties.setback",
            "Turf has no setback.",
            "A setback belongs to the feature that it protects.",
        )
    if not 0 <= draft.setback.si <= LONGEST_SETBACK_M:
        draft.fault(
            ".properties.setback",
            f"{draft.setback} is not a distance that can be kept.",
            f"A setback lies between 0 and {LONGEST_SETBACK_M:.0f} m.",
        )


def _check_slope(draft: Draft) -> None:
    if draft.slope is None:
        return
    if draft.kind is not None and draft.kind.role is not Role.TURF:
        draft.fault(
            ".properties.slope",
            f"{draft.kind.name} has no slope here.",
            "Only turf has a slope: give it to the turf around.",
        )
    if not 0 <= slope_deg(draft.slope) < 90:
        draft.fault(
            ".properties.slope",
            f"{draft.slope} is not a slope that ground can have.",
            "A slope is 0 or more and less than 90 deg.",
        )


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
