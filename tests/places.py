"""A small invented property for page tests: one lawn, one house, one bed, one pond."""

from datetime import UTC, datetime
from typing import Any

import pytest

from properties.models import Firm, Person, Property
from properties.services.outlines import save_drawing
from properties.services.places import PlaceFacts, add_property

SAVED_AT = datetime(2026, 4, 7, 14, 30, tzinfo=UTC)
# About 84 m east and 111 m north make a thousandth of a degree at 41° N.
WEST, SOUTH = -92.001, 41.0005


def rectangle(west: float, south: float, width: float, height: float) -> dict[str, Any]:
    """A rectangle by its south-west corner and its size, in millionths of a degree."""
    east, north = west + width, south + height
    ring = [[west, south], [east, south], [east, north], [west, north], [west, south]]
    return {
        "type": "Polygon",
        "coordinates": [[[WEST + x * 1e-6, SOUTH + y * 1e-6] for x, y in ring]],
    }


def feature(ref: str, kind: str, geometry: dict[str, Any], **facts: str) -> dict[str, Any]:
    """One shape of a drawing."""
    return {
        "type": "Feature",
        "id": ref,
        "properties": {"kind": kind} | facts,
        "geometry": geometry,
    }


def collection(*features: dict[str, Any]) -> dict[str, Any]:
    """A drawing of these shapes."""
    return {"type": "FeatureCollection", "features": list(features)}


def small_lot() -> dict[str, Any]:
    """Turf of about 42 by 44 m with a house, a rose bed and a pond in it."""
    return collection(
        feature("lawn", "turf", rectangle(0, 0, 500, 400), name="Lawn"),
        feature("house", "building", rectangle(150, 150, 150, 100), name="House"),
        feature(
            "roses", "flower_bed", rectangle(350, 150, 60, 40), name="Rose bed", setback="3 ft"
        ),
        feature("pond", "pond", rectangle(380, 320, 80, 60), name="Pond"),
    )


def facts(**changed: Any) -> PlaceFacts:
    """What is known about the small lot."""
    known: dict[str, Any] = {
        "name": "Small lot",
        "address": "3 Teasel Row, Hazel Ferry",
        "customer_name": "M. Sorrel",
        "customer_phone": "",
        "customer_email": "",
        "access_note": "",
        "latitude": SOUTH,
        "longitude": WEST,
        "time_zone": "America/Chicago",
    }
    return PlaceFacts(**(known | changed))


@pytest.fixture
def place(firm: Firm, owner: Person) -> Property:
    """The small lot, drawn and saved once."""
    added = add_property(firm=firm, facts=facts())
    save_drawing(
        added, person=owner, at=SAVED_AT, base=0, why="First drawing", collection=small_lot()
    )
    added.refresh_from_db()
    return added
