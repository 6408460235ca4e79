"""The tips of a sprayer: what a new one gives, how wide its fan is, how large its drops are.

Flows in L/s, pressures in Pa, lengths in m, angles in degrees.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from planner.core.calibration import Calibration, TimedCatch
from planner.core.findings import Finding, Findings
from planner.core.label.facts import Droplets
from planner.core.mix.products import Product
from planner.core.shown import Shown, said
from properties.core.errors import Refused, require_positive
from properties.core.units import Quantity, quantity_of_si

#: What a new tip of a size gives at the pressure that sizes are told at.
NEW_TIP_FLOWS = MappingProxyType(
    {
        "01": Quantity(0.10, "gal/min"),
        "015": Quantity(0.15, "gal/min"),
        "02": Quantity(0.20, "gal/min"),
        "025": Quantity(0.25, "gal/min"),
        "03": Quantity(0.30, "gal/min"),
        "04": Quantity(0.40, "gal/min"),
        "05": Quantity(0.50, "gal/min"),
        "06": Quantity(0.60, "gal/min"),
        "08": Quantity(0.80, "gal/min"),
    }
)
SIZED_AT = Quantity(40.0, "psi")
#: A tip that gives so much more than a new one is worn.
WORN_SHARE = 0.10
_SAME_SHARE = 1e-9


@dataclass(frozen=True)
class Tip:
    """What is known of the tips of a machine; each is None where nobody told.

    ``droplets`` is the class of drops that they make at the pressure they work at,
    ``height`` how far they are over the turf.
    """

    size: str | None = None
    droplets: Droplets | None = None
    angle: Quantity | None = None
    height: Quantity | None = None


TIP_UNTOLD = Tip()


def new_tip_flow_l_per_s(*, size: str, pressure_pa: float) -> float:
    """Flow of a new tip of a size at a pressure.

    Parameters
    ----------
    size : str
        The number of its size, such as ``04``. [-]
    pressure_pa : float
        Pressure at the tip, > 0. [Pa]

    Returns
    -------
    float
        Flow. [L/s]

    Raises
    ------
    Refused
        If the size is not on the list, or the pressure is not a number above zero.

    References
    ----------
    ISO 10625, Equipment for crop protection, Sprayer nozzles, Colour coding for
    identification: size 04 is 0.4 gal/min at 40 psi (3 bar, nominal). Flow goes with the
    square root of the pressure.
    """
    require_positive(pressure_pa=pressure_pa)
    if size not in NEW_TIP_FLOWS:
        raise Refused(
            "size", f"{size} is no size of a tip.", f"Write one of: {', '.join(NEW_TIP_FLOWS)}."
        )
    return NEW_TIP_FLOWS[size].si * math.sqrt(pressure_pa / SIZED_AT.si)


def fan_width_m(*, height_m: float, angle_deg: float) -> float:
    """Width that a flat fan wets, without its fall.

    Parameters
    ----------
    height_m : float
        Height of the tip over the turf, > 0. [m]
    angle_deg : float
        Angle of the fan, above 0 and below 180. [degree]

    Returns
    -------
    float
        Width on the ground. [m]

    Raises
    ------
    Refused
        If a measure is not a finite number above zero.

    References
    ----------
    Our own derivation: 2 × height × tan(angle / 2).
    """
    require_positive(height_m=height_m, angle_deg=angle_deg)
    return 2 * height_m * math.tan(math.radians(angle_deg) / 2)


def tip_findings(
    tip: Tip,
    calibration: Calibration,
    *,
    spacing: Quantity | None,
    pressure: Quantity | None,
    shown: Shown,
) -> Findings:
    """Say where tips are worn or blocked, and where their fans do not meet.

    Parameters
    ----------
    tip : Tip
        What is known of the tips. [-]
    calibration : Calibration
        What was measured. [-]
    spacing : Quantity or None
        How far the nozzles are apart, None where nobody told. [m]
    pressure : Quantity or None
        What they work at, None where nobody told. [Pa]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        Warnings. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    Ohio State University Extension, Bulletin 817-00: replace a tip that gives 10 % more
    than a new one.
    """
    found = [*_apart(tip, spacing, shown)]
    if isinstance(calibration, TimedCatch):
        found += _unlike_new(tip, calibration, pressure)
    return Findings(tuple(found))


def droplet_findings(tip: Tip, products: Sequence[Product]) -> Findings:
    """Compare the drops that tips make with those that each label allows.

    Parameters
    ----------
    tip : Tip
        What is known of the tips. [-]
    products : Sequence[Product]
        The products of the mix. [-]

    Returns
    -------
    Findings
        A refusal where a label is left, a warning where nobody can tell. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The labels themselves. The classes and their order are those of ASABE S572.
    """
    found = Findings()
    for product in products:
        told = product.label.told
        if told.finest_droplets is None and told.coarsest_droplets is None:
            continue
        found += _unknown(product) if tip.droplets is None else _outside(product, tip.droplets)
    return found


def _unknown(product: Product) -> Findings:
    message = (
        f"{product.name}: the label says how fine or coarse the drops may be, and nobody told "
        "which drops these tips make. Look at the table of the tips for your pressure, and enter "
        "the class with the fittings."
    )
    return Findings((Finding("droplets_unknown", message, product=product.name),))


def _outside(product: Product, made: Droplets) -> Findings:
    classes, told = list(Droplets), product.label.told
    finest, coarsest = told.finest_droplets, told.coarsest_droplets
    if finest is not None and classes.index(made) < classes.index(finest):
        message = _wrong(product, made, f"{_word(finest)} at least", change="less")
        return Findings(refusals=(Finding("droplets_too_fine", message, product=product.name),))
    if coarsest is not None and classes.index(made) > classes.index(coarsest):
        message = _wrong(product, made, f"{_word(coarsest)} at most", change="more")
        return Findings(refusals=(Finding("droplets_too_coarse", message, product=product.name),))
    return Findings()


def _wrong(product: Product, made: Droplets, bound: str, *, change: str) -> str:
    return (
        f"{product.name}: these tips make {_word(made)} drops, and the label asks for {bound}. "
        f"Fit other tips, or work at {change} pressure where their table allows it, and calibrate "
        "again."
    )


def _word(droplets: Droplets) -> str:
    return droplets.value.replace("_", " ")


def _apart(tip: Tip, spacing: Quantity | None, shown: Shown) -> Iterator[Finding]:
    if tip.angle is None or tip.height is None or spacing is None:
        return
    width_m = fan_width_m(height_m=tip.height.si, angle_deg=tip.angle.si)
    if width_m < spacing.si * (1 - _SAME_SHARE):
        message = (
            f"From {said(tip.height)} a fan of {said(tip.angle)} is "
            f"{said(quantity_of_si(width_m, shown.length))} wide, and the nozzles are "
            f"{said(spacing)} apart: between them are stripes without spray. Raise the boom, or "
            "fit tips with a wider fan."
        )
        yield Finding("fans_do_not_meet", message)


def _unlike_new(tip: Tip, catch: TimedCatch, pressure: Quantity | None) -> Iterator[Finding]:
    if tip.size is None or pressure is None:
        return
    new = new_tip_flow_l_per_s(size=tip.size, pressure_pa=pressure.si)
    flows = [each.si / catch.catch_time.si for each in catch.catches]
    share = math.fsum(flows) / len(flows) / new - 1
    if abs(share) <= WORN_SHARE + _SAME_SHARE:
        return
    what, remedy = ("more", "They are worn: fit new ones")
    if share < 0:
        what, remedy = ("less", "Clean tips and screens, and look at the gauge and the size")
    message = (
        f"The tips give {abs(share):.0%} {what} than new ones of size {tip.size} at {pressure}. "
        f"{remedy}, and calibrate again."
    )
    yield Finding("tips_unlike_new", message)
