"""Rates that look like a slip of the pen: of the area they are for, of the ounce, of a zero.

An alarm names the slip beside whatever else is found, so that somebody looks twice.
"""

from planner.core.findings import Finding, Findings
from planner.core.label.labels import Form, Limits
from planner.core.mix.mixing import LIQUID_STEPS
from planner.core.mix.products import Product
from properties.core.units import Quantity

#: The areas that labels of turf give a rate for, and what each is taken for by mistake.
TAKEN_FOR = {
    "acre": "1000 sq ft",
    "1000 sq ft": "acre",
    "ha": "100 m2",
    "100 m2": "ha",
}
#: Ten times what is usual is a slip of the decimal point.
TEN_TIMES = 10.0
#: The two ends of one line of a label are never so far apart.
WIDEST_RANGE = 25.0
_AS_MUCH = 1 - 1e-9


def slip_findings(product: Product) -> Findings:
    """Say where a rate looks like a slip, against its label and against earlier plans.

    Parameters
    ----------
    product : Product
        A product of the mix, with the rates it was planned at before. [-]

    Returns
    -------
    Findings
        A refusal where the label is left too, a warning otherwise. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    One acre is 43.56 times 1,000 sq ft (NIST Handbook 44, Appendix C), one hectare 100
    times 100 m². Ten times the usual: common practice.
    """
    refusals = () if product.rate_is_in_label else _against_label(product)
    past = () if refusals else _against_past(product)
    return Findings((*past, *_range_too_wide(product), *_weighed_liquid(product)), refusals)


def for_the_other_area(rate: Quantity) -> Quantity | None:
    """Take the number of a rate for the area that its own is mistaken for.

    Parameters
    ----------
    rate : Quantity
        A rate as it was typed. [any rate]

    Returns
    -------
    Quantity or None
        The same number per acre for 1,000 sq ft and the like, or None where its area is
        not mistaken for another. [any rate]

    Raises
    ------
    Nothing
        Every rate is for one of them, or for none.

    References
    ----------
    Our own list.
    """
    amount, _, area = rate.unit.partition("/")
    other = TAKEN_FOR.get(area)
    return None if other is None else Quantity(rate.value, f"{amount}/{other}")


def _against_label(product: Product) -> tuple[Finding, ...]:
    limits, rate = product.label.rate, product.rate
    usual = _usual_of_label(limits)
    other = for_the_other_area(rate)
    if other is not None and _lies_in(other.si, usual):
        message = (
            f"{product.name}: {rate} is far outside the label, and {other} would be inside. "
            "Look at the line of the label again: for which area is its number?"
        )
        return (Finding("rate_for_another_area", message, product=product.name),)
    if not _is_ten_times_off(rate.si, usual):
        return ()
    message = (
        f"{product.name}: {rate} is ten times off the label or more. Look for a slip of the "
        "decimal point or of the unit."
    )
    return (Finding("rate_ten_times_off", message, product=product.name),)


def _usual_of_label(limits: Limits) -> tuple[float, float]:
    """The label's range; where one end is not known, a tenth or ten times of the other."""
    ends = [end.si for end in (limits.lowest, limits.highest) if end is not None]
    lowest = ends[0] / TEN_TIMES if limits.lowest is None else ends[0]
    return lowest, ends[-1] * TEN_TIMES if limits.highest is None else ends[-1]


def _lies_in(rate: float, usual: tuple[float, float]) -> bool:
    lowest, highest = usual
    return lowest * _AS_MUCH <= rate <= highest / _AS_MUCH


def _is_ten_times_off(rate: float, usual: tuple[float, float]) -> bool:
    lowest, highest = usual
    return rate >= highest * TEN_TIMES * _AS_MUCH or rate <= lowest / TEN_TIMES / _AS_MUCH


def _against_past(product: Product) -> tuple[Finding, ...]:
    past = [rate for rate in product.past_rates if rate.dimension is product.rate.dimension]
    if not past:
        return ()
    usual = min(past, key=lambda rate: rate.si), max(past, key=lambda rate: rate.si)
    if not _is_ten_times_off(product.rate.si, (usual[0].si, usual[1].si)):
        return ()
    before = f"{usual[0]}" if usual[0].si == usual[1].si else f"{usual[0]} to {usual[1]}"
    message = (
        f"{product.name}: {product.rate} is ten times off what your plans had so far ({before}). "
        "If it is meant, go on; else look for a slip of the decimal point or of the area."
    )
    return (Finding("rate_unlike_before", message, product=product.name),)


def _range_too_wide(product: Product) -> tuple[Finding, ...]:
    limits = product.label.rate
    if limits.lowest is None or limits.highest is None:
        return ()
    if limits.highest.si < limits.lowest.si * WIDEST_RANGE:
        return ()
    message = (
        f"{product.name}: the label’s range as it was copied is {limits.lowest} to "
        f"{limits.highest}. Such a wide one looks like two different areas: copy both again."
    )
    return (Finding("label_range_wide", message, product=product.name),)


def _weighed_liquid(product: Product) -> tuple[Finding, ...]:
    formulation = product.formulation
    if formulation is None or formulation.step not in LIQUID_STEPS:
        return ()
    if product.kind.form is not Form.DRY:
        return ()
    message = (
        f"{product.name}: {formulation.token} is a liquid and {product.rate} is a weight. An "
        "ounce by weight is no fluid ounce: look whether the label says fl oz. If it does give a "
        "weight, weigh it, or copy the density too and it is measured by volume."
    )
    return (Finding("ounces_by_weight", message, product=product.name),)
