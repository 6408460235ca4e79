"""How it came about how far the figures of a plan may be off."""

import math
from collections.abc import Iterator, Sequence

from planner.core.amounts.output_band import Joined, OutputBand
from planner.core.amounts.planned import Planned
from planner.core.amounts.uncertainty import Again, Uncertainty
from planner.core.shown import Shown
from planner.core.workings.terms import below, explained
from properties.core.accuracy import SIGMAS_OF_95_PERCENT
from properties.core.remeasuring import Gain
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure, Input

CORNERS_SOURCE = (
    "Our own derivation from the formula of the shoelace: corners with a standard deviation s "
    "along either axis give an area s / 2 × sqrt(sum of the squared distances from the corner "
    "before to the corner after); points on a straight side are no corners. What is taken out of "
    "turf counts by the share of its border inside; turf on a slope by its slope factor."
)
JOINED_SOURCE = (
    "NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.1: 95 of 100 lie within 1.96 "
    "standard deviations; those of shapes that were measured on their own add by their squares."
)
AGAIN_SOURCE = (
    "Our own derivation: the variance that a corner adds goes with the square of its error. "
    "Corners measured again have the better error, the others stay as they are."
)
OUTPUT_SOURCE = (
    "JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1.6: shares of a "
    "product add by their squares; the number before the root is t for the degrees of freedom by "
    "G.2b. A tank mixed for the measured output gives the ground as much "
    "more or less of everything as the true output is more or less."
)
#: Of more shapes the smaller ones are joined to one term.
MOST_TERMS = 12


def uncertainty_figures(
    told: Uncertainty | None, planned: Planned, *, shown: Shown
) -> Iterator[Figure]:
    """Derive how far area, spray and products may be off.

    Parameters
    ----------
    told : Uncertainty or None
        The deviations of the shapes, None where nobody can tell. [-]
    planned : Planned
        The figures. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    if told is None:
        return
    yield from below("uncertainty", _figures(told, planned, shown))
    if told.again is not None:
        again = _again(told.again, told, shown)
        yield from below("uncertainty.remeasure", again)


def _figures(told: Uncertainty, planned: Planned, shown: Shown) -> Iterator[Figure]:
    yield _band(
        "treatable_area",
        "How far the treatable area may be off, 95 times in 100",
        told,
        [shown.area_of(each.area_m2) for each in told.deviations],
        shown.area_of(told.area_m2),
    )
    if planned.spread is None:
        yield _band(
            "carrier_volume",
            "How far the finished spray may be off, 95 times in 100",
            told,
            [shown.spray_of(each.carrier_l) for each in told.deviations],
            shown.spray_of(told.carrier_l),
        )
    for position, product in enumerate(planned.request.products):
        unit = shown.amount_unit(product.rate)
        yield _band(
            f"products[{position}]",
            f"How far {product.name} may be off, 95 times in 100",
            told,
            [quantity_of_si(each.products[position], unit) for each in told.deviations],
            quantity_of_si(told.of_product(position), unit),
        )
    yield from _with_output(told, planned, shown)
    yield _share(told, shown)
    for number, each in enumerate(told.deviations):
        deviation = Input("standard deviation", shown.area_of(each.area_m2))
        yield Figure(
            f"by_shape[{number}].deviation",
            f"What the corners of {each.shape.name or each.shape.ref} add",
            deviation.name,
            (deviation,),
            deviation.quantity,
            CORNERS_SOURCE,
        )


def _band(
    key: str, name: str, told: Uncertainty, deviations: Sequence[Quantity], result: Quantity
) -> Figure:
    terms = [Input(f"deviation {n}", each) for n, each in enumerate(deviations, start=1)]
    names = [each.shape.name or each.shape.ref for each in told.deviations[:MOST_TERMS]]
    told_terms = [(term.name, name) for term, name in zip(terms, names, strict=False)]
    if len(terms) > MOST_TERMS:
        rest = math.hypot(*(term.quantity.value for term in terms[MOST_TERMS:]))
        terms = [*terms[:MOST_TERMS], Input("all others", Quantity(rest, result.unit))]
    squares = " + ".join(f"{term.name}²" for term in terms) or "0"
    return Figure(
        f"{key}.plus_minus",
        explained(name, told_terms),
        f"{SIGMAS_OF_95_PERCENT} × sqrt({squares})",
        tuple(terms),
        result,
        JOINED_SOURCE,
    )


def _with_output(told: Uncertainty, planned: Planned, shown: Shown) -> Iterator[Figure]:
    """The same figures with what nobody knows of the outputs."""
    spray = told.carrier_with_output
    if spray is not None:
        yield _joined("carrier_volume", "Finished spray", spray, shown.spray, told.output)
    for position, product in enumerate(planned.request.products):
        amount = told.of_product_with_output(position)
        if amount is not None:
            unit = shown.amount_unit(product.rate)
            yield _joined(f"products[{position}]", product.name, amount, unit, told.output)


def _joined(key: str, name: str, joined: Joined, unit: str, band: OutputBand | None) -> Figure:
    tools = () if band is None else tuple(part.tool.words for part in band.parts)
    terms = [Input("by the areas", quantity_of_si(joined.by_areas, unit))]
    for tool, error in zip(tools, joined.by_outputs, strict=True):
        terms.append(Input(f"by the {tool} output", quantity_of_si(error.share, unit)))
    squares = " + ".join(f"{term.name}²" for term in terms)
    return Figure(
        f"{key}.with_output",
        f"{name}: how far off with how well the outputs are known, 95 times in 100 (each term one "
        "standard deviation)",
        f"{joined.t:g} × sqrt({squares})",
        tuple(terms),
        quantity_of_si(joined.half_width, unit),
        OUTPUT_SOURCE,
    )


def _share(told: Uncertainty, shown: Shown) -> Figure:
    return Figure(
        "share_percent",
        "How far area, of all the treatable area, may be off",
        "100 × off / treatable area",
        (
            Input("off", shown.area_of(told.area_m2)),
            Input("treatable area", shown.area_of(told.treatable_m2)),
        ),
        Quantity(100 * told.share, "%"),
        JOINED_SOURCE,
    )


def _again(again: Again, told: Uncertainty, shown: Shown) -> Iterator[Figure]:
    remeasuring = again.remeasuring
    left = Input(
        "deviation left", shown.area_of(remeasuring.half_width_after_m2 / SIGMAS_OF_95_PERCENT)
    )
    yield Figure(
        "half_width_after",
        "How far the treatable area may still be off when all of these are measured again",
        f"{SIGMAS_OF_95_PERCENT} × {left.name}",
        (left,),
        shown.area_of(remeasuring.half_width_after_m2),
        AGAIN_SOURCE,
    )
    for number, gain in enumerate(remeasuring.gains):
        yield from below(f"items[{number}]", [_gain(gain, told, shown)])


def _gain(gain: Gain, told: Uncertainty, shown: Shown) -> Figure:
    before = Input("deviation before", shown.area_of(told.area_m2 / SIGMAS_OF_95_PERCENT))
    taken = Input("taken away", shown.area_of(math.sqrt(gain.variance_fall_m4)))
    return Figure(
        "half_width_after",
        "How far the treatable area may still be off when this alone is measured again",
        f"{SIGMAS_OF_95_PERCENT} × sqrt({before.name}² − {taken.name}²)",
        (before, taken),
        shown.area_of(gain.half_width_after_m2),
        AGAIN_SOURCE,
    )
