"""Two drawings on one map: every shape once for each state in which it is shown."""

from typing import Any

from properties.core.changes import Fate
from properties.core.features import KINDS
from properties.core.outlines import Drawing, Shape, write_drawing
from properties.models import Person, Property
from properties.selectors.history import TwoDrawings
from properties.web.drawing_board import kind_facts, layers


def compared_map(person: Person, place: Property, compared: TwoDrawings) -> dict[str, Any]:
    """Collect what the map shows, from the ground up: unchanged, gone, as it was, as it is."""
    changes = compared.comparison
    same = set(changes.unchanged)
    shown = [
        ("same", [shape for shape in compared.after.shapes if shape.ref in same], ""),
        ("removed", _states(changes.of_fate(Fate.REMOVED), "before"), "removed"),
        ("old", _states(changes.of_fate(Fate.CHANGED), "before"), "before"),
        ("new", _states(changes.of_fate(Fate.CHANGED), "after"), "now"),
        ("added", _states(changes.of_fate(Fate.ADDED), "after"), "added"),
    ]
    features = [
        feature
        for change, shapes, word in shown
        for feature in _features(shapes, change=change, word=word)
    ]
    return {
        "collection": {"type": "FeatureCollection", "features": features},
        "kinds": [kind_facts(kind) for kind in KINDS.values()],
    } | layers(person, place)


def _states(changes: Any, state: str) -> list[Shape]:
    return [getattr(change, state) for change in changes]


def _features(shapes: list[Shape], *, change: str, word: str) -> list[dict[str, Any]]:
    written = write_drawing(Drawing(tuple(shapes)))["features"]
    for feature, shape in zip(written, shapes, strict=True):
        name = shape.name or shape.kind.name
        feature["id"] = f"{change}:{shape.ref}"
        feature["properties"] |= {
            "change": change,
            "ref": shape.ref,
            "name": f"{name}, {word}" if word else name,
        }
    return list(written)
