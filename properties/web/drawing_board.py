"""What the drawing board is handed: shapes, kinds, layers, and measured answers as text."""

from datetime import date
from typing import Any
from urllib.parse import urlsplit

from django.urls import reverse
from django.utils import timezone

from properties.core.features import KINDS, Kind, Role
from properties.core.outlines import Drawing, Shape, ShapeFault, write_areas, write_drawing
from properties.core.showing import AREA, shown_area, shown_length
from properties.core.treatable import Treatment
from properties.core.turfgrasses import TURFGRASSES
from properties.core.units import quantity_of_si
from properties.models import Person, Picture, Property
from properties.selectors.areas import treatment_of
from properties.selectors.outlines import drawing_of
from properties.selectors.places import tile_layers_of

GEOMETRIES = {
    Role.TURF: ["area"],
    Role.OBSTACLE: ["area"],
    Role.PROTECTED: ["area", "line", "point"],
}


def board_context(person: Person, place: Property, *, editable: bool) -> dict[str, Any]:
    """Collect everything that the drawing board of a property needs."""
    drawing = drawing_of(place)
    today = timezone.now().date()
    return {
        "property": place,
        "drawing_json": {
            "collection": write_drawing(drawing),
            "number": place.drawing_number,
            "measured": measured(drawing, place=place, person=person, day=today),
        },
        "kinds_json": [kind_facts(kind) for kind in KINDS.values()],
        "layers_json": layers(person, place),
        "save_url": reverse("save_drawing", args=[place.pk]),
        "measure_url": reverse("measure_drawing", args=[place.pk]),
        "draft_key": f"drawing-{person.pk}-{place.pk}",
        "units": person.units,
        "editable": editable,
    }


def kind_facts(kind: Kind) -> dict[str, Any]:
    """Describe a kind of feature to the page."""
    grows = {"turfgrasses": list(TURFGRASSES.items())} if kind.role is Role.TURF else {}
    return {
        "token": kind.token,
        "role": kind.role.value,
        "name": kind.name,
        "geometries": GEOMETRIES[kind.role],
        **grows,
    }


def layers(person: Person, place: Property) -> dict[str, Any]:
    """Describe what may lie under the drawing, and where the map opens."""
    picture = Picture.objects.filter(property=place).first()
    return {
        "picture": None
        if picture is None
        else {
            "url": reverse("property_picture", args=[place.pk]),
            "bounds": [[picture.south, picture.west], [picture.north, picture.east]],
            "credit": picture.credit,
            "name": picture.name,
        },
        "tiles": list(tile_layers_of(person).values("name", "url", "credit", "max_native_zoom")),
        "centre": [place.latitude, place.longitude],
        "zoom": 19,
    }


def tile_hosts(person: Person) -> list[str]:
    """Name the hosts that a page of this firm may load tiles from."""
    return sorted(
        {
            f"https://{urlsplit(layer.url).netloc.replace('{s}', '*')}"
            for layer in tile_layers_of(person)
        }
    )


def measured(drawing: Drawing, *, place: Property, person: Person, day: date) -> dict[str, Any]:
    """Measure a drawing at the distances kept at a property and put the answer into words."""
    treatment = treatment_of(drawing, place=place, day=day)
    units = person.units
    totals = {
        "turf": treatment.turf_area_m2,
        "obstacle": treatment.obstacle_area_m2,
        "no_spray": treatment.no_spray_area_m2,
        "treatable": treatment.treatable_area_m2,
    }
    return {
        "shapes": {ref: _area(area_m2, units) for ref, area_m2 in treatment.shape_areas_m2.items()},
        "totals": {name: _area(area_m2, units) for name, area_m2 in totals.items()},
        "treatable": write_areas(treatment.treatable_degrees()),
        "no_spray": _zones(treatment, units),
        "notes": notes(drawing) + notes(treatment),
        "left_out": _left_out(drawing, treatment, units),
    }


def _size(shape: Shape, area_m2: float, units: str) -> dict[str, Any]:
    """Say the area of a shape, or that it is a line or a point and has none."""
    words = {"Point": "point", "MultiPoint": "points", "LineString": "line"}
    said = _area(area_m2, units)
    drawn_as = words.get(shape.geometry.geom_type, "lines")
    return said if shape.geometry.area else said | {"text": drawn_as}


def _area(area_m2: float, units: str) -> dict[str, Any]:
    quantity = quantity_of_si(area_m2, AREA[units])
    return {
        "value": quantity.value,
        "unit": quantity.unit,
        "text": shown_area(area_m2, units),
    }


def _zones(treatment: Treatment, units: str) -> dict[str, Any]:
    outlines = treatment.zones_degrees()
    return {
        "type": "FeatureCollection",
        "features": [
            {
                "type": "Feature",
                "properties": {
                    "feature": zone.ref,
                    "distance": shown_length(zone.setback.distance_m, units),
                    "reason": zone.setback.reason,
                },
                "geometry": write_areas(outlines[zone.ref]),
            }
            for zone in treatment.zones
        ],
    }


def _left_out(drawing: Drawing, treatment: Treatment, units: str) -> list[dict[str, str]]:
    names = {shape.ref: shape.name or shape.kind.name for shape in drawing.shapes}
    return [
        {
            "shape": part.ref,
            "text": f"{shown_area(part.area_m2, units)} because of {names[part.ref]}",
        }
        for part in treatment.left_out
        if part.area_m2 > 0
    ]


def notes(noted: Drawing | Treatment) -> list[dict[str, str | None]]:
    """Put the repairs that were made into what the page shows."""
    return [{"shape": note.shape, "message": note.message} for note in noted.notes]


def faults(found: tuple[Any, ...]) -> list[dict[str, Any]]:
    """Put every fault into what the page shows beside its shape and field."""
    return [
        {
            "shape": fault.shape if isinstance(fault, ShapeFault) else None,
            "field": fault.field,
            "message": str(fault),
            "at": list(fault.at_lonlat)
            if isinstance(fault, ShapeFault) and fault.at_lonlat
            else None,
        }
        for fault in found
    ]
