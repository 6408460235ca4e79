"""A lawn with a label that limits what the same ground may get, and a past to change."""

from typing import Any

import shapely

from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from tests.planner.core.asking import HERBICIDE, Json, area, asking, corners_of, lonlat

ON = "2026-07-06"
PRODUCT = HERBICIDE["name"]


def planned(request: Json) -> Any:
    return plan_as_json(plan_from_json(request))


def ground(*corners: tuple[float, float, float, float]) -> Json:
    polygons = [area("", "turf", corners_of(*each))["geometry"]["coordinates"] for each in corners]
    return {"type": "MultiPolygon", "coordinates": polygons}


def had(
    *corners: tuple[float, float, float, float],
    on: str = "2026-05-01",
    rate: str = "1.2 fl oz/1000 sq ft",
    **more: Any,
) -> Json:
    return {"on": on, "product": PRODUCT, "rate": rate, "where": ground(*corners)} | more


def limited(limits: Json, *, rate: str = "1.2 fl oz/1000 sq ft", label: Json | None = None) -> Json:
    told = HERBICIDE["label"] | {"limits": limits} | (label or {})
    return HERBICIDE | {"rate": rate, "label": told}


def job(limits: Json, *history: Json, **more: Any) -> Json:
    return asking(mix=[limited(limits)], history=list(history), on=ON) | more


INGREDIENT = {"name": "Invented-A", "content": "4 lb/gal", "per_year": "0.5 lb/acre"}
YEARLY = {"per_year": "3.4 fl oz/1000 sq ft"}
EVERY_30_DAYS = {"interval": "30 days"}
WEST, EAST = (0, 0, 50, 50), (50, 0, 100, 50)


def codes(plan: Any, kind: str = "refusals") -> list[str]:
    return [finding["code"] for finding in plan[kind]]


def in_degrees(corners: tuple[float, float]) -> shapely.Point:
    return shapely.Point(lonlat(corners[0] * 0.3048, corners[1] * 0.3048))
