"""What changed between two drawings, in words and in the reader's units."""

from dataclasses import dataclass
from typing import Any

from properties.core.changes import Comparison, Fate, Redrawn, ShapeChange
from properties.core.outlines import Shape
from properties.core.showing import shown, shown_area, shown_length
from properties.core.treatable import Treatment
from properties.core.turfgrasses import TURFGRASSES
from properties.core.units import Quantity

REORDERED = "Only the order of the shapes changed."
NOTHING = "Nothing differs."
#: What stands where a fact was not given.
NOT_GIVEN = {
    "setback": "none of its own",
    "downwind_setback": "none of its own",
    "slope": "level",
    "gate": "none",
    "position_error": "not known",
}
FACTS = {
    "setback": "distance to keep",
    "downwind_setback": "distance to keep downwind",
    "slope": "slope",
    "gate": "gate",
    "position_error": "error of its corners",
}
MEASURED = {"": "not told", "imagery": "from a picture", "walked": "by walking", "tape": "by tape"}
DRAWN_AS = {"Point": "a point", "MultiPoint": "points", "LineString": "a line"}


@dataclass(frozen=True)
class Told:
    """One change as a page tells it."""

    ref: str
    fate: str
    name: str
    kind: str
    words: tuple[str, ...]
    before: str
    after: str
    difference: str

    @property
    def sentence(self) -> str:
        """The change in one line."""
        if self.fate == Fate.ADDED:
            return f"{self.name} added, {self.after}"
        if self.fate == Fate.REMOVED:
            return f"{self.name} removed, {self.before}"
        line = f"{self.name}: {', '.join(self.words)}"
        return f"{line}; {self.before} before, {self.after} now" if self.difference else line


def told(comparison: Comparison, units: str) -> list[Told]:
    """Tell every change of a comparison."""
    return [_told(change, units) for change in comparison.changes]


def nothing_told(comparison: Comparison) -> str:
    """Say why a comparison has no change to tell."""
    if comparison.changes:
        return ""
    return REORDERED if comparison.reordered else NOTHING


def totals_told(before: Treatment, after: Treatment, units: str) -> list[dict[str, Any]]:
    """Tell what the whole property came to, and comes to."""
    rows = [
        ("Turf", before.turf_area_m2, after.turf_area_m2),
        ("Under obstacles", before.obstacle_area_m2, after.obstacle_area_m2),
        ("Left unsprayed", before.no_spray_area_m2, after.no_spray_area_m2),
        ("Treatable", before.treatable_area_m2, after.treatable_area_m2),
    ]
    return [
        {
            "name": name,
            "before": shown_area(old_m2, units),
            "after": shown_area(new_m2, units),
            "difference": _difference(old_m2, new_m2, units) or "no change",
        }
        for name, old_m2, new_m2 in rows
    ]


def _told(change: ShapeChange, units: str) -> Told:
    return Told(
        ref=change.ref,
        fate=change.fate.value,
        name=change.shape.name or change.shape.kind.name,
        kind=change.shape.kind.name,
        words=_words(change, units),
        before=_size(change.before, change.area_before_m2, units),
        after=_size(change.after, change.area_after_m2, units),
        difference=_difference(change.area_before_m2 or 0, change.area_after_m2 or 0, units),
    )


def _words(change: ShapeChange, units: str) -> tuple[str, ...]:
    if change.before is None or change.after is None:
        return (change.fate.value,)
    before, after = change.before, change.after
    outline = {
        Redrawn.NOT: (),
        Redrawn.RETRACED: ("same ground with other corners",),
        Redrawn.MOVED: (f"moved by {shown_length(change.moved_m, units)}",),
        Redrawn.RESHAPED: ("reshaped",),
    }[change.outline]
    return (*outline, *(_fact(fact, before, after) for fact in change.facts))


def _fact(fact: str, before: Shape, after: Shape) -> str:
    if fact == "kind":
        return f"{after.kind.name}, was {before.kind.name}"
    if fact == "name":
        return f"was called “{before.name}”" if before.name else "given a name"
    if fact == "by_hand_only":
        return "by hand tool only now" if after.by_hand_only else "open to machines again"
    if fact == "measured_by":
        now, then = MEASURED[after.measured_by or ""], MEASURED[before.measured_by or ""]
        return f"measured {now}, was {then}"
    if fact == "turfgrasses":
        now, then = (_grasses(shape) for shape in (after, before))
        return f"grows {now}, was {then}"
    old, new = (_given(fact, getattr(shape, fact)) for shape in (before, after))
    return f"{FACTS[fact]} {new}, was {old}"


def _grasses(shape: Shape) -> str:
    names = [TURFGRASSES[word] for word in shape.turfgrasses]
    return " with ".join(names) or "as the property says"


def _given(fact: str, quantity: Quantity | None) -> str:
    return NOT_GIVEN[fact] if quantity is None else shown(quantity)


def _size(shape: Shape | None, area_m2: float | None, units: str) -> str:
    if shape is None:
        return "–"
    if area_m2 is None:
        return DRAWN_AS.get(shape.geometry.geom_type, "lines")
    return shown_area(area_m2, units)


def _difference(before_m2: float, after_m2: float, units: str) -> str:
    """Write by how much an area grew or shrank; nothing where it reads the same."""
    if shown_area(before_m2, units) == shown_area(after_m2, units):
        return ""
    grown = shown_area(abs(after_m2 - before_m2), units)
    return f"+ {grown}" if after_m2 > before_m2 else f"− {grown}"
