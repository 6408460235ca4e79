"""How the output there would be, and what a mix would then put down, came about."""

from collections.abc import Iterator

from planner.core.machine.what_if import Change, WhatIf
from planner.core.shown import Shown
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure, Input

OUTPUT_SOURCE = (
    "NC State Extension, The Calibration of Turfgrass Boom Sprayers and Spreaders: at a fixed "
    "pressure output goes as one over the speed. The flow of a tip goes with the root of the "
    "pressure (common practice), and a denser mix flows slower by the root of its specific gravity "
    "(Ohio State University Extension, Bulletin 817-00)."
)
RATE_SOURCE = (
    "Our own derivation: a tank that is mixed keeps its strength, so a product goes as the output."
)


def output_then_figure(
    now_l_per_m2: float, then_l_per_m2: float, changes: WhatIf, *, shown: Shown
) -> Figure:
    """Derive the output there would be.

    Parameters
    ----------
    now_l_per_m2 : float
        The output that was measured. [L/m²]
    then_l_per_m2 : float
        The output there would be. [L/m²]
    changes : WhatIf
        What would be otherwise. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Figure
        The derivation. [units shown]

    Raises
    ------
    Nothing
        It always has one.

    References
    ----------
    The derivation names its own.
    """
    terms, formula = [Input("output now", shown.output_of(now_l_per_m2))], "output now"
    for change, name, pattern in (
        (changes.pressure, "pressure", " × sqrt({then} / {now})"),
        (changes.speed, "speed", " × {now} / {then}"),
        (changes.tip_flow, "flow of the tip", " × {then} / {now}"),
    ):
        if change is not None:
            names = {"now": f"{name} now", "then": f"{name} then"}
            formula += pattern.format(**names)
            terms += _both(change, names["now"], names["then"])
    if changes.specific_gravity is not None:
        formula += f" / sqrt({changes.specific_gravity!r})"
    result = shown.output_of(then_l_per_m2)
    return Figure(
        "output_then", "Output there would be", formula, tuple(terms), result, OUTPUT_SOURCE
    )


def rate_then_figure(name: str, rate: Quantity, ratio: float, figure: Figure) -> Figure:
    """Derive what a mixed tank would put down of a product.

    Parameters
    ----------
    name : str
        What the product is called. [-]
    rate : Quantity
        The rate it was mixed for, per area. [per area]
    ratio : float
        Output then over output now. [1]
    figure : Figure
        The derivation of the output there would be. [-]

    Returns
    -------
    Figure
        The derivation. [unit of the rate]

    Raises
    ------
    Nothing
        It always has one.

    References
    ----------
    The derivation names its own.
    """
    return Figure(
        "rate_then",
        f"{name}, from a tank mixed for now",
        "rate × output then / output now",
        (Input("rate", rate), Input("output then", figure.result), figure.inputs[0]),
        quantity_of_si(rate.si * ratio, rate.unit),
        RATE_SOURCE,
    )


def _both(change: Change, now: str, then: str) -> Iterator[Input]:
    yield Input(now, change.now)
    yield Input(then, change.then.to(change.now.unit))
