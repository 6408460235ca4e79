"""One place of the demo as it stands in its file: the drawn shapes and what lies around.

Lengths in metres east and north of the anchor, whatever unit the file counts in.
"""

import json
import math
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from planner.management.scenario.local import Anchor
from planner.management.scenario.tracing import traced
from properties.core.units import Quantity

FOLDER = Path(__file__).parent.parent.parent / "data" / "demo"


@dataclass(frozen=True)
class Thing:
    """Something on the ground: what the picture shows, and the drawing if it has a kind."""

    look: str
    geometry: BaseGeometry
    properties: dict[str, str] = field(default_factory=dict)
    ref: str = ""
    height_m: float = 0.0
    crown_m: float = 0.0
    stripes_deg: float | None = None

    @property
    def outline(self) -> Polygon:
        """The geometry of a thing that is one area."""
        if not isinstance(self.geometry, Polygon):
            raise TypeError(f"{self.look} must be one area")
        return self.geometry

    @property
    def is_drawn(self) -> bool:
        """Whether the thing is a shape of the drawing, not only scenery."""
        return "kind" in self.properties


@dataclass(frozen=True)
class Scene:
    """A place: where it is, what is known of it, and every thing on the ground."""

    facts: dict[str, Any]
    anchor: Anchor
    margin_m: float
    things: tuple[Thing, ...]

    @property
    def drawn(self) -> tuple[Thing, ...]:
        """The things that are shapes of the drawing."""
        return tuple(thing for thing in self.things if thing.is_drawn)

    @property
    def middle(self) -> tuple[float, float]:
        """Longitude and latitude of the middle of what is drawn."""
        outlines = [self.anchor.placed(thing.geometry) for thing in self.drawn]
        west, south, east, north = (float(edge) for edge in shapely.total_bounds(outlines))
        return (west + east) / 2, (south + north) / 2

    def collection(self) -> dict[str, Any]:
        """The drawing, as the map page would send it."""
        return {
            "type": "FeatureCollection",
            "features": [
                {
                    "type": "Feature",
                    "id": thing.ref,
                    "properties": thing.properties,
                    "geometry": shapely.geometry.mapping(self.anchor.placed(thing.geometry)),
                }
                for thing in self.drawn
            ],
        }


def all_scenes() -> list[Scene]:
    """Read every place of the demo, in the order of their files."""
    return [read_scene(path) for path in sorted((FOLDER / "places").glob("*.json"))]


def read_scene(path: Path) -> Scene:
    """Read the file of one place."""
    written = json.loads(path.read_text(encoding="utf-8"))
    unit_m = Quantity(1, written["counted_in"]).si
    turn = math.radians(written.get("turned_deg", 0))
    east_north = unit_m * np.array(
        [[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]]
    )
    entries = [*written["shapes"], *written.get("scenery", [])]
    return Scene(
        facts=written["facts"],
        anchor=Anchor(*written["anchor"]),
        margin_m=written["margin_m"],
        things=tuple(_thing(entry, east_north, turn) for entry in entries),
    )


def _thing(entry: dict[str, Any], east_north: npt.NDArray[np.float64], turn: float) -> Thing:
    geometry = shapely.transform(traced(entry), lambda xy: xy @ east_north)
    stripes = entry.get("stripes")
    carried = ("kind", "name", "setback", "slope", "only", "gate", "turfgrasses")
    told = {word: entry[word] for word in carried if word in entry}
    if told.get("kind"):
        # Every shape of the demo was drawn on its picture, unless it says otherwise.
        told["measured_by"] = entry.get("measured_by", "imagery")
    return Thing(
        look=entry.get("look", entry.get("kind", "")),
        geometry=geometry,
        properties=told,
        ref=entry.get("id", ""),
        height_m=entry.get("high_m", 0.0),
        crown_m=entry.get("crown_m", 0.0),
        stripes_deg=None if stripes is None else stripes + math.degrees(turn),
    )
