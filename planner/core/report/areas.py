"""The ground of a plan as JSON: areas, shapes, distances kept."""

from collections.abc import Mapping, Sequence

import shapely
from shapely import LinearRing, MultiPolygon

from planner.core.ground.distances import KeptFrom
from planner.core.ground.ground import Ground
from planner.core.report.quantities import Json, maybe, quantity
from planner.core.shown import Shown, in_unit


def areas_as_json(ground: Ground, shown: Shown) -> Json:
    """Write the areas of a plan, what may be sprayed, and the distances kept.

    Parameters
    ----------
    ground : Ground
        The ground of a plan. [m, m²]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The members from ``turf_area`` to ``left_out``. [units shown]

    Raises
    ------
    Nothing
        Every ground can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    treatment = ground.treatment
    areas_m2 = {
        "turf_area": treatment.turf_area_m2,
        "obstacle_area": treatment.obstacle_area_m2,
        "no_spray_area": treatment.no_spray_area_m2,
        "treatable_area": treatment.treatable_area_m2,
        "machine_area": ground.machine_area_m2,
        "hand_area": ground.hand_area_m2,
    }
    return {
        **{name: quantity(shown.area_of(area_m2)) for name, area_m2 in areas_m2.items()},
        "treatable": geometry_as_json(treatment.treatable_degrees()),
        "no_spray": zones_as_json(ground.kept_from, treatment.zones_degrees(), shown),
        "areas_by_shape": _areas_by_shape(ground, shown),
        "left_out": _left_out(ground, shown),
    }


def geometry_as_json(geometry: MultiPolygon) -> Json:
    """Write areas in degrees.

    Parameters
    ----------
    geometry : MultiPolygon
        The areas. [degree]

    Returns
    -------
    dict
        A GeoJSON MultiPolygon. [degree]

    Raises
    ------
    Nothing
        Every area can be written.

    References
    ----------
    Butler, H. et al. (2016), The GeoJSON Format, RFC 7946, section 3.1.7.
    """
    polygons = [
        [_positions(ring) for ring in (polygon.exterior, *polygon.interiors)]
        for polygon in geometry.geoms
    ]
    return {"type": "MultiPolygon", "coordinates": polygons}


def _positions(ring: LinearRing) -> list[list[float]]:
    positions: list[list[float]] = shapely.get_coordinates(ring).tolist()
    return positions


def zones_as_json(
    kept_from: Sequence[KeptFrom], zones: Mapping[str, MultiPolygon], shown: Shown
) -> Json:
    """Write the zone of each feature, with its distance and the reason.

    Parameters
    ----------
    kept_from : Sequence[KeptFrom]
        The features with what is asked for. [m]
    zones : Mapping of str to MultiPolygon
        The zone of each by its ref. [degree]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        A GeoJSON FeatureCollection. [units shown]

    Raises
    ------
    Nothing
        Every zone can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    features = [_zone(kept, zones[kept.shape.ref], shown) for kept in kept_from]
    return {"type": "FeatureCollection", "features": features}


def _zone(kept: KeptFrom, zone: MultiPolygon, shown: Shown) -> Json:
    shape, all_round = kept.shape, kept.all_round
    distance = None if all_round is None else in_unit(all_round.distance, shown.length)
    return {
        "type": "Feature",
        "properties": {
            "feature": shape.ref,
            "kind": shape.kind.token,
            "name": shape.name,
            "distance": maybe(distance),
            "reason": kept.setback.reason,
            **_downwind(kept, shown),
        },
        "geometry": None if zone.is_empty else geometry_as_json(zone),
    }


def _downwind(kept: KeptFrom, shown: Shown) -> Json:
    """What is kept on the side the wind comes from, where that is more."""
    claim = kept.decided_downwind
    if claim is None or not kept.follows_wind:
        return {}
    return {
        "downwind_distance": quantity(in_unit(claim.distance, shown.length)),
        "downwind_reason": claim.reason,
    }


def _areas_by_shape(ground: Ground, shown: Shown) -> list[Json]:
    return [
        {
            "feature": shape.ref,
            "kind": shape.kind.token,
            "name": shape.name,
            "area": quantity(shown.area_of(ground.treatment.shape_areas_m2[shape.ref])),
        }
        for shape in ground.drawing.shapes
    ]


def _left_out(ground: Ground, shown: Shown) -> list[Json]:
    return [
        {
            "feature": left.ref,
            "own_ground": quantity(shown.area_of(left.own_ground_m2)),
            "strip": quantity(shown.area_of(left.strip_m2)),
        }
        for left in ground.treatment.left_out
    ]
