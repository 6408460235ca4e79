"""A plan as JSON: every member of docs/plan-request.md, in the units asked for.

Only lists, dictionaries, text, finite numbers and None: nothing is rounded.
"""

from typing import Any

import shapely
from shapely import LinearRing, MultiPolygon

from planner.core.calibration import Run
from planner.core.findings import Finding
from planner.core.ground import Ground, KeptFrom
from planner.core.mixing import WORDS
from planner.core.plan import Plan
from planner.core.portions import Load, Portion, Total
from planner.core.products import Product
from planner.core.shown import Shown, in_unit
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure

Json = dict[str, Any]


def plan_as_json(plan: Plan) -> Json:
    """Write a plan as JSON.

    Parameters
    ----------
    plan : Plan
        A plan. [-]

    Returns
    -------
    dict
        Its members as docs/plan-request.md lists them. [units of the request]

    Raises
    ------
    Nothing
        Every plan can be written.

    References
    ----------
    Our own format, docs/plan-request.md; RFC 7946 for the geometry.
    """
    shown = plan.shown
    return {
        "units": plan.request.units.value,
        **_areas(plan.ground, shown),
        "output": _output(plan, shown),
        "carrier_volume": _quantity(shown.spray_of(plan.carrier_l)),
        "products": [_total(total, shown) for total in plan.totals],
        "mixing_order": [_mixed(product) for product in plan.mixing_order],
        "loads": [_load(load, shown) for load in plan.loads],
        "warnings": [_finding(finding) for finding in plan.warnings],
        "refusals": [_finding(finding) for finding in plan.refusals],
        "notes": _notes(plan.ground),
        "working": [_figure(figure) for figure in plan.working],
    }


def _quantity(quantity: Quantity) -> Json:
    return {"value": quantity.value, "unit": quantity.unit}


def _maybe(quantity: Quantity | None) -> Json | None:
    return None if quantity is None else _quantity(quantity)


def _areas(ground: Ground, shown: Shown) -> Json:
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
        **{name: _quantity(shown.area_of(area_m2)) for name, area_m2 in areas_m2.items()},
        "treatable": _geometry(treatment.treatable_degrees()),
        "no_spray": _no_spray(ground, shown),
        "areas_by_shape": _areas_by_shape(ground, shown),
        "left_out": _left_out(ground, shown),
    }


def _geometry(geometry: MultiPolygon) -> Json:
    polygons = [
        [_positions(ring) for ring in (polygon.exterior, *polygon.interiors)]
        for polygon in geometry.geoms
    ]
    return {"type": "MultiPolygon", "coordinates": polygons}


def _positions(ring: LinearRing) -> list[list[float]]:
    positions: list[list[float]] = shapely.get_coordinates(ring).tolist()
    return positions


def _no_spray(ground: Ground, shown: Shown) -> Json:
    zones = ground.treatment.zones_degrees()
    features = [_zone(kept, zones[kept.shape.ref], shown) for kept in ground.kept_from]
    return {"type": "FeatureCollection", "features": features}


def _zone(kept: KeptFrom, zone: MultiPolygon, shown: Shown) -> Json:
    shape, decided = kept.shape, kept.decided
    distance = None if decided is None else in_unit(decided.distance, shown.length)
    return {
        "type": "Feature",
        "properties": {
            "feature": shape.ref,
            "kind": shape.kind.token,
            "name": shape.name,
            "distance": _maybe(distance),
            "reason": kept.setback.reason,
        },
        "geometry": None if zone.is_empty else _geometry(zone),
    }


def _areas_by_shape(ground: Ground, shown: Shown) -> list[Json]:
    return [
        {
            "feature": shape.ref,
            "kind": shape.kind.token,
            "name": shape.name,
            "area": _quantity(shown.area_of(ground.treatment.shape_areas_m2[shape.ref])),
        }
        for shape in ground.drawing.shapes
    ]


def _left_out(ground: Ground, shown: Shown) -> list[Json]:
    return [
        {
            "feature": left.ref,
            "own_ground": _quantity(shown.area_of(left.own_ground_m2)),
            "strip": _quantity(shown.area_of(left.strip_m2)),
        }
        for left in ground.treatment.left_out
    ]


def _output(plan: Plan, shown: Shown) -> Json:
    output = plan.output
    variation = output.variation
    return {
        **_quantity(shown.output_of(output.l_per_m2)),
        "method": "measured_course" if output.runs else "stated",
        "runs": len(output.runs),
        "runs_kept": len(output.kept),
        "cv_percent": None if variation is None else 100 * variation,
        "flukes": [_fluke(run, shown) for run in output.flukes],
    }


def _fluke(run: Run, shown: Shown) -> Json:
    return {
        "run": run.number,
        "volume": _quantity(shown.spray_of(run.volume_l)),
        "deviation_percent": 100 * run.deviation,
    }


def _total(total: Total, shown: Shown) -> Json:
    product = total.product
    unit = shown.amount_unit(product.rate)
    measures = {portion.measured.mark for portion in total.portions if portion.measured is not None}
    finest = min(measures, key=lambda mark: mark.si, default=None)
    return {
        "name": product.name,
        "amount": _quantity(quantity_of_si(total.amount, unit)),
        "rate_used": _rate(product, product.rate.si, shown),
        "label_range": _range(product, shown),
        "amount_to_measure": _maybe(total.measured_in(unit)),
        "rate_after_rounding": _rate(product, total.rate_after_rounding(), shown),
        "measure": _maybe(finest),
    }


def _range(product: Product, shown: Shown) -> Json:
    limits = product.label.rate
    lowest, highest = (None if end is None else end.si for end in (limits.lowest, limits.highest))
    return {"min": _rate(product, lowest, shown), "max": _rate(product, highest, shown)}


def _rate(product: Product, rate: float | None, shown: Shown) -> Json | None:
    return None if rate is None else _quantity(shown.rate_of(product.rate, rate))


def _mixed(product: Product) -> Json:
    formulation = product.formulation
    return {
        "name": product.name,
        "formulation": None if formulation is None else formulation.token,
        "step": None if formulation is None else WORDS[formulation.step],
    }


def _load(load: Load, shown: Shown) -> Json:
    fill = load.fill
    water = None if load.water_l is None else shown.spray_of(load.water_l)
    return {
        "number": fill.number,
        "filling": fill.filling,
        "tank": fill.tank_name,
        "volume": _quantity(shown.spray_of(fill.volume_l)),
        "area": _quantity(shown.area_of(load.area_m2)),
        "water": _maybe(water),
        "products": [_portion(portion, shown) for portion in load.portions],
    }


def _portion(portion: Portion, shown: Shown) -> Json:
    product, measured = portion.product, portion.measured
    unit = shown.amount_unit(product.rate)
    return {
        "name": product.name,
        "amount": _quantity(quantity_of_si(portion.amount, unit)),
        "amount_to_measure": None if measured is None else _quantity(measured.shown_in(unit)),
        "measure": None if measured is None else _quantity(measured.mark),
        "rate_after_rounding": _rate(product, portion.rate_after_rounding, shown),
    }


def _finding(finding: Finding) -> Json:
    about = {"feature": finding.feature, "product": finding.product}
    return {
        "code": finding.code,
        "message": finding.message,
        **{name: value for name, value in about.items() if value is not None},
    }


def _notes(ground: Ground) -> list[Json]:
    return [
        {"code": note.code, "message": note.message, "feature": note.shape}
        for note in (*ground.drawing.notes, *ground.treatment.notes)
    ]


def _figure(figure: Figure) -> Json:
    return {
        "figure": figure.key,
        "name": figure.name,
        "formula": figure.formula,
        "inputs": [{"name": each.name, **_quantity(each.quantity)} for each in figure.inputs],
        "result": _quantity(figure.result),
        "source": figure.source,
    }
