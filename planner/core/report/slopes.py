"""What comes down on each slope of a machine’s ground, as JSON."""

from collections.abc import Sequence

from planner.core.amounts.parts import Part
from planner.core.amounts.slope_output import SlopeGround
from planner.core.checks.slopes import pump_note
from planner.core.label.labels import SAME_NUMBER
from planner.core.mix.products import Product
from planner.core.report.areas import geometry_as_json
from planner.core.report.quantities import Json, maybe, quantity, range_of, rate_of
from planner.core.shown import Shown
from properties.core.frame import Frame
from properties.core.units import quantity_of_si
from properties.core.zones import in_degrees


def slopes_as_json(part: Part, products: Sequence[Product], frame: Frame, *, shown: Shown) -> Json:
    """Write what comes down on each slope of a part.

    Parameters
    ----------
    part : Part
        The part. [m²]
    products : Sequence[Product]
        The mix. [-]
    frame : Frame
        Where the property is. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The members ``slopes`` and ``slopes_note``, where the part has slopes and the pump or
        a speed on one is told. [units shown]

    Raises
    ------
    Nothing
        Every slope can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    if not part.slopes:
        return {}
    return {
        "slopes": [_slope(each, part, products, frame, shown) for each in part.slopes],
        "slopes_note": pump_note(part),
    }


def level_area_as_json(parts: Sequence[Part], shown: Shown) -> Json:
    """Write the level ground that takes as much spray as some parts.

    Parameters
    ----------
    parts : Sequence[Part]
        The parts. [m²]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The member ``level_area``, where it is not the ground itself. [units shown]

    Raises
    ------
    Nothing
        Every area can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    if not any(part.is_other_area for part in parts):
        return {}
    return {"level_area": quantity(shown.area_of(sum(part.level_m2 for part in parts)))}


def spots_as_json(part: Part) -> Json:
    """Write how much of the ground is spots, where only these are treated.

    Parameters
    ----------
    part : Part
        The part of the one tool. [-]

    Returns
    -------
    dict
        The member ``spots``, where they are told. [%]

    Raises
    ------
    Nothing
        Every share can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    if part.spot_share == 1:
        return {}
    return {"spots": {"share": quantity(quantity_of_si(part.spot_share, "%"))}}


def _slope(
    slope: SlopeGround, part: Part, products: Sequence[Product], frame: Frame, shown: Shown
) -> Json:
    speed, times = slope.speed, slope.times
    level_l_per_m2 = part.output.l_per_m2
    output = None if times is None else shown.output_of(level_l_per_m2 * times)
    return {
        "slope": quantity(slope.slope),
        "features": [shape.ref for shape in slope.shapes],
        "area": quantity(shown.area_of(slope.area_m2)),
        "shape": geometry_as_json(in_degrees([slope.ground], frame)[0]),
        "speed": None
        if speed is None
        else quantity(quantity_of_si(speed.m_per_s, speed.steeper.speed.unit)),
        "times": times,
        "output": maybe(output),
        "products": []
        if times is None
        else [_product(each, part, times, shown) for each in products],
    }


def _product(product: Product, part: Part, times: float, shown: Shown) -> Json:
    rate = product.rate.si * (times if product.by_area else 1.0)
    allowed = product.allows(rate)
    if product.rate.si > part.cap_of(product) * (1 + SAME_NUMBER):
        allowed = False
    return {
        "name": product.name,
        "rate": rate_of(product, rate, shown),
        "label_range": range_of(product, shown),
        "allowed": allowed,
    }
