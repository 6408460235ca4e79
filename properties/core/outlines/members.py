"""The members of a drawn feature beside its outline: id, kind, name, distances and the rest."""

from collections.abc import Sequence
from typing import Any

from properties.core.errors import Refused
from properties.core.features import Role, kind_named
from properties.core.outlines.draft import Draft
from properties.core.outlines.placement import read_placement
from properties.core.outlines.turf import read_turf_members
from properties.core.units import Dimension, Quantity

MOST_LETTERS = 200
#: A longer setback is a slip of the unit: no rule for turf asks for a tenth of it.
LONGEST_SETBACK_M = 5000.0


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
    draft.setback = draft.quantity(properties, "setback", Dimension.LENGTH)
    draft.downwind_setback = draft.quantity(properties, "downwind_setback", Dimension.LENGTH)
    _check_setback(draft, "setback", draft.setback)
    _check_setback(draft, "downwind_setback", draft.downwind_setback)
    read_turf_members(draft, properties)
    read_placement(draft, properties)


def _check_setback(draft: Draft, word: str, setback: Quantity | None) -> None:
    if setback is None:
        return
    if draft.kind is not None and draft.kind.role is Role.TURF:
        draft.fault(
            f".properties.{word}",
            "Turf has no setback.",
            "A setback belongs to the feature that it protects.",
        )
    if not 0 <= setback.si <= LONGEST_SETBACK_M:
        draft.fault(
            f".properties.{word}",
            f"{setback} is not a distance that can be kept.",
            f"A setback lies between 0 and {LONGEST_SETBACK_M:.0f} m.",
        )
