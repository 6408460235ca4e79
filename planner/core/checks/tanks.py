"""What is found about a mix in its tanks: too strong, too many loads, too little to measure."""

import math
from collections.abc import Sequence

from planner.core.findings import Finding, Findings
from planner.core.label.labels import SAME_NUMBER
from planner.core.mix.loads import MOST_LOADS
from planner.core.mix.measures import Measures, extent_needed, finer_mark
from planner.core.mix.portions import Load, Portion, Total, liquid_share
from planner.core.mix.products import Product
from planner.core.shown import Shown, listed, said
from properties.core.units import Quantity, quantity_of_si


def mix_findings(
    products: Sequence[Product], *, output_l_per_m2: float, order_is_told: bool = False
) -> Findings:
    """Say what is found about the mix before it is shared among loads.

    Parameters
    ----------
    products : Sequence[Product]
        The mix. [-]
    output_l_per_m2 : float
        The machine's output, > 0. [L/m²]
    order_is_told : bool
        Whether a label gives the order in which they go in. [-]

    Returns
    -------
    Findings
        A refusal where the products do not fit into the spray, warnings otherwise. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    See ``liquid_share`` and ``mixing_order``.
    """
    warnings = []
    if not products:
        message = "The mix is empty: this plan is for plain water. Add the products to spray."
        warnings.append(Finding("water_only", message))
    is_known = order_is_told or all(product.formulation is not None for product in products)
    if len(products) > 1 and not is_known:
        message = (
            "The mixing order is not confirmed, as not every formulation is known. Follow the "
            "order on the labels, and try a new mix in a jar first."
        )
        warnings.append(Finding("mixing_order_unconfirmed", message))
    share = liquid_share(products, output_l_per_m2=output_l_per_m2)
    if share <= 1 + SAME_NUMBER:
        return Findings(tuple(warnings))
    message = (
        f"The liquid products alone are {share:.0%} of the finished spray, so there is no room "
        "for water. Check the rates and their units, or use a higher output."
    )
    return Findings(tuple(warnings), (Finding("mix_stronger_than_water", message),))


def too_many_loads(*, spray_l: float, tanks: Sequence[Quantity], shown: Shown) -> Findings:
    """Refuse a job that would never end with these tanks.

    Parameters
    ----------
    spray_l : float
        All the finished spray. [L]
    tanks : Sequence[Quantity]
        The tanks. [-]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        The refusal. [-]

    Raises
    ------
    Nothing
        The caller found that there are too many.

    References
    ----------
    Our own limit.
    """
    message = (
        f"{said(shown.spray_of(spray_l))} of spray would take more than {MOST_LOADS} loads from "
        f"{listed([str(tank) for tank in tanks])}. Check the areas and the output, or use "
        "larger tanks."
    )
    return Findings(refusals=(Finding("too_many_loads", message),))


def measure_findings(
    total: Total, loads: Sequence[Load], *, measures: Measures, output_l_per_m2: float, shown: Shown
) -> Findings:
    """Refuse a product that no measure on the truck can show inside its label.

    Parameters
    ----------
    total : Total
        The product for the whole job. [-]
    loads : Sequence[Load]
        Every load of the job. [-]
    measures : Measures
        The marks of what is on the truck. [-]
    output_l_per_m2 : float
        The machine's output, > 0. [L/m²]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        One refusal at most, which names the loads and what would do. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    See ``to_measure``, ``finer_mark`` and ``extent_needed``.
    """
    product = total.product
    coarse = [
        (load, portion)
        for load, portion in zip(loads, total.portions, strict=True)
        if portion.measured is None and portion.may_be_mixed
    ]
    if not coarse:
        return Findings()
    numbers = listed([f"load {load.fill.number}" for load, _ in coarse])
    load, smallest = min(coarse, key=lambda each: each[1].extent)
    exact = said(quantity_of_si(smallest.amount, shown.amount_unit(product.rate)))
    marks = measures.for_form(product.kind.form)
    message = (
        f"{product.name}: {numbers} cannot be measured out. {exact} are needed for "
        f"{said(shown.spray_of(load.fill.volume_l))}, and no mark of "
        f"{listed([str(mark) for mark in marks])} is near enough to {_span_said(smallest, shown)}. "
        f"{_remedy(smallest, finest=marks[-1], output_l_per_m2=output_l_per_m2, shown=shown)}"
    )
    return Findings(refusals=(Finding("measure_too_coarse", message, product=product.name),))


def _span_said(portion: Portion, shown: Shown) -> str:
    product, limits = portion.product, portion.product.label.rate
    if limits.lowest is None or limits.highest is None:
        span = "the rate asked for (never above a rate nobody has checked, at most 5 % below)"
    else:
        span = f"the label’s range ({limits.lowest} to {limits.highest})"
    if math.isinf(portion.cap) or limits.exceeded_by(portion.cap):
        return span
    cap = said(shown.rate_of(product.rate, portion.cap))
    return f"{span} without passing what the ground may still get ({cap})"


def _remedy(portion: Portion, *, finest: Quantity, output_l_per_m2: float, shown: Shown) -> str:
    rate, span = portion.product.rate.si, portion.span
    mark = finer_mark(rate=rate, extent=portion.extent, span=span, than=finest)
    extent = extent_needed(span=span, mark=finest)
    if mark is None or extent is None:
        return (
            "The label’s range leaves no room to round in. If the label gives a single rate, "
            "enter it as the highest only."
        )
    spray_l = extent * output_l_per_m2 if portion.product.by_area else extent
    return (
        f"Use a measure with marks of {mark}, or share the spray so that this load is at least "
        f"{said(shown.spray_of(spray_l))}."
    )
