"""What is found about slopes: another output there, one that nobody knows, one over a label."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.core.amounts.feeding import feeding_findings, feeding_on
from planner.core.amounts.parts import Part
from planner.core.amounts.slope_output import SlopeGround
from planner.core.findings import Finding, Findings
from planner.core.ground.ground import called
from planner.core.label.labels import SAME_NUMBER
from planner.core.machine.fittings import Pump
from planner.core.machine.slope_speeds import SpeedThere
from planner.core.machine.what_if import MOST_PRESSURE_SHARE, pressure_for
from planner.core.mix.products import Product
from planner.core.nutrient.limits import NutrientRules
from planner.core.shown import Shown, listed, said, said_at_most
from properties.core.units import Quantity, quantity_of_si

_DIGITS = 3


def slope_findings(
    part: Part, products: Sequence[Product], rules: NutrientRules, *, shown: Shown
) -> Findings:
    """Say what a machine’s speed on slopes means for what comes down there.

    Parameters
    ----------
    part : Part
        What the machine sprays, with its slopes. [-]
    products : Sequence[Product]
        The mix. [-]
    rules : NutrientRules
        What limits nutrients at the place. [kg/m²]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        Warnings of another output and of one that nobody knows; refusals where a label or a
        limit is left. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The labels; unknown is not zero.
    """
    found = Findings(tuple(_not_known(part)))
    for slope in part.slopes:
        if slope.is_other and slope.speed is not None:
            other = _other(part, slope, slope.speed, shown)
            found += Findings((other,), tuple(_over(part, slope, products)))
            found += _fed(part, slope, rules, shown)
    return found


def on_slope(slope: SlopeGround) -> str:
    """Say which slope is meant.

    Parameters
    ----------
    slope : SlopeGround
        The slope. [-]

    Returns
    -------
    str
        Such as ``Bank (turf), 20 %``. [-]

    Raises
    ------
    Nothing
        Every slope has a shape.

    References
    ----------
    Our own wording.
    """
    return f"{listed([called(shape) for shape in slope.shapes])}, {slope.slope}"


def _not_known(part: Part) -> Iterator[Finding]:
    unknown = [slope for slope in part.slopes if slope.times is None]
    if not unknown:
        return
    slopes = listed([on_slope(slope) for slope in unknown])
    speeds = part.sprayer.slope_speeds
    if part.sprayer.fittings.pump is None:
        message = (
            f"On {slopes} nobody can tell what comes down: speeds on slopes are told, and not "
            "whether the pump follows the speed. The amounts are those of level ground. Say it "
            "with what is fitted to the machine."
        )
        yield Finding("slope_pump_unknown", message, tool=part.tool)
        return
    steeper = f" (the steepest measured is {speeds.steepest})" if speeds.steepest else ""
    message = (
        f"On {slopes} nobody has measured how fast the machine drives{steeper}, and its pump keeps "
        "its flow: where it drives slower, more comes down. The amounts are those of level "
        "ground, which is not known to be right. Time it there, and write the speed with the "
        "calibration."
    )
    yield Finding("slope_speed_unknown", message, tool=part.tool)


def _other(part: Part, slope: SlopeGround, there: SpeedThere, shown: Shown) -> Finding:
    speed = said(quantity_of_si(there.m_per_s, there.steeper.speed.unit))
    output = said(shown.output_of(part.output.l_per_m2 * slope.counted))
    message = (
        f"On {on_slope(slope)} the machine drives {speed} instead of {said(there.level)}, and "
        f"its pump keeps its flow: {output} come down there, {slope.counted:.4g} times as much as "
        "on level ground. The amounts of this plan count it."
    )
    return Finding("slope_output", message, tool=part.tool)


def _over(part: Part, slope: SlopeGround, products: Sequence[Product]) -> Iterator[Finding]:
    for product in products:
        yield from _rate(part, slope, product)
        yield from _carrier(part, slope, product)


def _rate(part: Part, slope: SlopeGround, product: Product) -> Iterator[Finding]:
    """Only where the rate on level ground is right: else that is what is told."""
    limits, asked = product.label.rate, product.rate.si
    there = asked * slope.counted
    if not (product.by_area and product.rate_is_in_label) or product.allows(there) is not False:
        return
    rate = said(quantity_of_si(there, product.rate.unit))
    if limits.exceeded_by(there) and limits.highest is not None:
        most = said_at_most(
            quantity_of_si(limits.highest.si / slope.counted, product.rate.unit), digits=_DIGITS
        )
        low = (
            ", which is below the label’s lowest"
            if limits.undercut_by(limits.highest.si / slope.counted)
            else ""
        )
        message = (
            f"{product.name}: on {on_slope(slope)} it would be {rate}, more than the label allows "
            f"({limits.highest} at most). {_ways(part, slope)}, or mix for {most} on level ground "
            f"at most{low}."
        )
        yield Finding("slope_rate_above_label", message, product=product.name)
        return
    message = (
        f"{product.name}: on {on_slope(slope)} it would be {rate}, less than the label’s lowest "
        f"rate ({limits.lowest}). {_ways(part, slope)}, or plan that ground by itself."
    )
    yield Finding("slope_rate_below_label", message, product=product.name)


def _carrier(part: Part, slope: SlopeGround, product: Product) -> Iterator[Finding]:
    """Only where the output on level ground is right: else that is what is told."""
    limits, level = product.label.carrier, part.l_per_rated_m2
    there = level * slope.counted
    if limits.exceeded_by(level) or limits.undercut_by(level):
        return
    if limits.exceeded_by(there):
        message = _other_carrier(part, slope, product, f"{limits.highest} at most")
        yield Finding("slope_carrier_above_label", message, product=product.name)
    if limits.undercut_by(there):
        message = _other_carrier(part, slope, product, f"{limits.lowest} at least")
        yield Finding("slope_carrier_below_label", message, product=product.name)


def _other_carrier(part: Part, slope: SlopeGround, product: Product, limit: str) -> str:
    known = product.label.carrier.highest or product.label.carrier.lowest
    unit = known.unit if known is not None else "L/m2"
    output = said(quantity_of_si(part.l_per_rated_m2 * slope.counted, unit))
    return (
        f"{product.name}: on {on_slope(slope)} the machine would put down {output}, and the label "
        f"asks for {limit} of finished spray. {_ways(part, slope)}."
    )


def _ways(part: Part, slope: SlopeGround) -> str:
    """What brings the output on a slope back to that of level ground."""
    level = "" if slope.speed is None else f" ({said(slope.speed.level)})"
    ways = [f"drive there as it was calibrated{level}"]
    pressure, share = part.sprayer.set_up.pressure, 1 / slope.counted
    lower = "lower" if share < 1 else "higher"
    if abs(share**2 - 1) > MOST_PRESSURE_SHARE + SAME_NUMBER:
        ways.append(f"use {'smaller' if share < 1 else 'larger'} tips there")
    elif pressure is None:
        ways.append(f"set the pressure {abs(share**2 - 1):.0%} {lower} there")
    else:
        there = pressure_for(pressure_pa=pressure.si, flow_share=share)
        ways.append(f"set the pressure there to {said(quantity_of_si(there, pressure.unit))}")
    return f"{ways[0][0].upper()}{ways[0][1:]}, {ways[1]}"


def _fed(part: Part, slope: SlopeGround, rules: NutrientRules, shown: Shown) -> Findings:
    """Limits on nutrients that hold on level ground, and not on a slope that gets more."""
    told = {finding.code for finding in _feeding(part, 1.0, rules, shown).refusals}
    return Findings(
        refusals=tuple(
            replace(each, message=f"On {on_slope(slope)}: {each.message}")
            for each in _feeding(part, slope.counted, rules, shown).refusals
            if each.code not in told
        )
    )


def _feeding(part: Part, times: float, rules: NutrientRules, shown: Shown) -> Findings:
    products = [_times(total.product, times) for total in part.totals]
    fed = feeding_on(part.rated_m2, products, rules, l_per_rated_m2=part.l_per_rated_m2 * times)
    return feeding_findings(fed, shown=shown)


def _times(product: Product, times: float) -> Product:
    if not product.by_area:
        return product
    return replace(product, rate=Quantity(product.rate.value * times, product.rate.unit))


def pump_note(part: Part) -> str:
    """Say in a sentence what the pump does with another speed.

    Parameters
    ----------
    part : Part
        What the machine sprays. [-]

    Returns
    -------
    str
        The sentence. [-]

    Raises
    ------
    Nothing
        What nobody told is said to be unknown.

    References
    ----------
    See ``output_times``.
    """
    return {
        Pump.SPEED_TIED: "The pump follows the speed: as much comes down on a slope as on "
        "level ground.",
        Pump.FIXED: "The pump keeps its flow: output there = output × calibrated speed / speed "
        "there.",
        None: "Nobody says whether the pump follows the speed.",
    }[part.sprayer.fittings.pump]
