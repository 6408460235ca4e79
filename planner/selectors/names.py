"""What the shapes of a drawing are called."""

from collections import Counter
from typing import Any

from properties.core.features import kind_named


def named(drawing: dict[str, Any]) -> dict[str, Any]:
    """Call every shape without a name by its kind, and by a number where there are several.

    What is said about it then means something to somebody who looks at the map.
    """
    nameless = [shape["properties"] for shape in drawing["features"] if not _name(shape)]
    many = Counter(properties["kind"] for properties in nameless)
    so_far: Counter[str] = Counter()
    for properties in nameless:
        kind = properties["kind"]
        so_far[kind] += 1
        number = f" {so_far[kind]}" if many[kind] > 1 else ""
        properties["name"] = f"{kind_named(kind).name}{number}"
    return drawing


def _name(shape: dict[str, Any]) -> str:
    return str(shape["properties"].get("name") or "")
