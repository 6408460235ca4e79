"""How far the figures of a plan may be off, as JSON, and what to measure again."""

import math

import shapely
from shapely import LineString

from planner.core.amounts.output_band import Joined
from planner.core.amounts.uncertainty import Again, Uncertainty
from planner.core.ground.ground import Ground, called
from planner.core.plan import Plan
from planner.core.report.quantities import Json, quantity
from planner.core.shown import Shown, said
from properties.core.outlines import Shape
from properties.core.remeasuring import Gain
from properties.core.units import quantity_of_si

NOTE = (
    "The true figure is within this 95 times in 100, if each corner is out by chance and on its "
    "own. A border that is traced too far out or in all round is not in it, and comes on top."
)
NOT_COUNTED_NOTE = (
    "Features whose own place nobody is sure of are not in it either: tell how each was measured."
)

SIDES = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")


def uncertainty_as_json(plan: Plan, shown: Shown) -> Json:
    """Write how far area, spray and products may be off.

    Parameters
    ----------
    plan : Plan
        A plan. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The member ``uncertainty``; where it is null, ``uncertainty_unknown`` says why.
        [units shown]

    Raises
    ------
    Nothing
        Every plan can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    told = plan.error_bar.uncertainty
    if told is None:
        return {"uncertainty": None, "uncertainty_unknown": plan.error_bar.why_not}
    again = {} if told.again is None else {"remeasure": _again(told.again, plan.ground, shown)}
    return {
        "uncertainty": {
            "confidence_percent": 95,
            "treatable_area": {"plus_minus": quantity(shown.area_of(told.area_m2))},
            **_carrier(plan, told, shown),
            "products": _products(plan, told, shown),
            "share_percent": 100 * told.share,
            "by_shape": [
                {
                    "feature": each.shape.ref,
                    "deviation": quantity(shown.area_of(each.area_m2)),
                    "variance_percent": 100 * told.variance_share(each),
                }
                for each in told.deviations
            ],
            "not_counted": [shape.ref for shape in told.not_counted],
            **again,
            "note": f"{NOTE} {NOT_COUNTED_NOTE}" if told.not_counted else NOTE,
        }
    }


def _carrier(plan: Plan, told: Uncertainty, shown: Shown) -> Json:
    if plan.spread is not None:
        return {}
    return {
        "carrier_volume": {
            "plus_minus": quantity(shown.spray_of(told.carrier_l)),
            "with_output": _or_null(told.carrier_with_output, shown.spray),
        }
    }


def _products(plan: Plan, told: Uncertainty, shown: Shown) -> list[Json]:
    return [
        {
            "name": product.name,
            "plus_minus": quantity(
                quantity_of_si(told.of_product(position), shown.amount_unit(product.rate))
            ),
            "with_output": _or_null(
                told.of_product_with_output(position), shown.amount_unit(product.rate)
            ),
        }
        for position, product in enumerate(plan.request.products)
    ]


def _or_null(joined: Joined | None, unit: str) -> Json | None:
    return None if joined is None else quantity(quantity_of_si(joined.half_width, unit))


def _again(again: Again, ground: Ground, shown: Shown) -> Json:
    remeasuring = again.remeasuring
    shapes = {shape.ref: shape for shape in ground.drawing.shapes}
    items = [_gain(gain, shapes[gain.ref], ground, shown) for gain in remeasuring.gains]
    after = quantity(shown.area_of(remeasuring.half_width_after_m2))
    return {
        "halves": remeasuring.halves,
        "error": quantity(again.error),
        "items": items,
        "half_width_after": after,
    }


def _gain(gain: Gain, shape: Shape, ground: Ground, shown: Shown) -> Json:
    ends = None
    if gain.side is not None:
        side = ground.treatment.frame.to_degrees(gain.side)
        ends = shapely.get_coordinates(side).tolist()
    return {
        "feature": shape.ref,
        "words": called(shape) if gain.side is None else _side_words(gain.side, shape, shown),
        "side": ends,
        "half_width_after": quantity(shown.area_of(gain.half_width_after_m2)),
    }


def _side_words(side: LineString, shape: Shape, shown: Shown) -> str:
    """Name a side by where it lies; corners run counter-clockwise, so outward is to the right."""
    (west, south), (east, north) = shapely.get_coordinates(side).tolist()
    outward_deg = math.degrees(math.atan2(north - south, west - east))
    place = SIDES[round(outward_deg / 45) % len(SIDES)]
    length = said(quantity_of_si(side.length, shown.length), digits=3)
    return f"{place} side of {called(shape)}, {length} long"
