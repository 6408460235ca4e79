"""Each tool's part of a plan as JSON, and its mix in the other tool."""

from collections.abc import Sequence

from planner.core.amounts.parts import Part
from planner.core.amounts.planned import Planned
from planner.core.checks.cross_use import Crossed, CrossUse, cross_uses
from planner.core.machine.barred import Barred
from planner.core.report.areas import geometry_as_json, zones_as_json
from planner.core.report.feeding import feeding_as_json
from planner.core.report.passes import passes_as_json
from planner.core.report.quantities import Json, quantity, range_of, rate_of
from planner.core.report.slopes import level_area_as_json, slopes_as_json
from planner.core.report.tanks import load_as_json, output_as_json, total_as_json
from planner.core.request import PlanRequest, RateMeets
from planner.core.shown import Shown
from properties.core.frame import Frame
from properties.core.zones import in_degrees, zones_in_degrees


def loads_as_json(parts: Sequence[Part], shown: Shown) -> list[Json]:
    """Write every load with its tool.

    Parameters
    ----------
    parts : Sequence[Part]
        The parts of a plan. [L, m²]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    list of dict
        The member ``loads``. [units shown]

    Raises
    ------
    Nothing
        Every load can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return [
        {**load_as_json(load, shown), "tool": part.tool.value}
        for part in parts
        for load in part.loads
    ]


def rate_area_as_json(parts: Sequence[Part], request: PlanRequest, shown: Shown) -> Json:
    """Write the area on the map, where the rates meet that.

    Parameters
    ----------
    parts : Sequence[Part]
        The parts that are meant. [m²]
    request : PlanRequest
        Which area the rates meet. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The member ``rate_area``, if it is not the ground itself. [units shown]

    Raises
    ------
    Nothing
        Every area can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    if request.rate_meets is RateMeets.SURFACE:
        return {}
    return {"rate_area": quantity(shown.area_of(sum(part.rated_m2 for part in parts)))}


def two_tools_as_json(planned: Planned, shown: Shown) -> Json:
    """Write each tool's part, and what its mix would do in the other, where there are two.

    Parameters
    ----------
    planned : Planned
        The figures. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The members ``parts`` and ``cross_use``. [units shown]

    Raises
    ------
    Nothing
        Every part can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    if len(planned.parts) == 1:
        return {}
    return {
        "parts": [_part(part, planned, shown) for part in planned.parts],
        "cross_use": [_cross_use(use, shown) for use in cross_uses(planned.parts)],
    }


def _part(part: Part, planned: Planned, shown: Shown) -> Json:
    frame = planned.ground.treatment.frame
    return {
        "tool": part.tool.value,
        "kind": part.sprayer.kind.value,
        "method": part.sprayer.method.value,
        "area": quantity(shown.area_of(part.area_m2)),
        **level_area_as_json([part], shown),
        **rate_area_as_json([part], planned.request, shown),
        "shape": geometry_as_json(in_degrees([part.ground.ground], frame)[0]),
        "output": output_as_json(part.output, shown),
        "carrier_volume": quantity(shown.spray_of(part.carrier_l)),
        "products": [total_as_json(total, shown) for total in part.totals],
        "loads": loads_as_json([part], shown),
        "no_spray": _no_spray(part, frame, shown),
        "barred": [_barred(barred) for barred in part.ground.barred],
        **passes_as_json(part, frame, shown),
        **slopes_as_json(part, part.products, frame, shown=shown),
        **feeding_as_json(part, planned.request.nutrient_rules, shown),
    }


def _no_spray(part: Part, frame: Frame, shown: Shown) -> Json:
    zones = zones_in_degrees(part.ground.zones, frame)
    return zones_as_json(part.ground.kept_from, zones, shown)


def _barred(barred: Barred) -> Json:
    return {"feature": barred.shape.ref, "reason": barred.reason}


def _cross_use(use: CrossUse, shown: Shown) -> Json:
    return {
        "mix_of": use.mix_of.tool.value,
        "used_in": use.used_in.tool.value,
        "allowed": use.allowed,
        "products": [_crossed(crossed, shown) for crossed in use.products],
    }


def _crossed(crossed: Crossed, shown: Shown) -> Json:
    return {
        "name": crossed.product.name,
        "rate": rate_of(crossed.product, crossed.rate, shown),
        "label_range": range_of(crossed.product, shown),
        "allowed": crossed.allowed,
    }
