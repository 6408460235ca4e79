"""What cannot be measured out for a load of a route, and what would do."""

from planner.core.day.filling import RouteLoad, TopUp
from planner.core.day.whole import Day
from planner.core.findings import Finding, Findings
from planner.core.mix.measures import finer_mark
from planner.core.shown import listed, said
from properties.core.units import quantity_of_si


def coarse_findings(day: Day) -> Findings:
    """Refuse each product that no measure on the truck can show inside its label.

    Parameters
    ----------
    day : Day
        The route worked out. [L, L or kg]

    Returns
    -------
    Findings
        A refusal for each product of each load, with the measure that would do. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    See ``to_measure`` and ``finer_mark``.
    """
    return Findings(
        refusals=tuple(
            _coarse(day, load, each)
            for load in day.loads_to_come
            for each in load.products
            if each.measured is None and each.may_be_mixed and not each.is_too_strong
        )
    )


def _coarse(day: Day, load: RouteLoad, each: TopUp) -> Finding:
    product = each.product
    exact = said(quantity_of_si(each.amount, day.shown.amount_unit(product.rate)))
    marks = day.request.measures.for_form(product.kind.form)
    message = (
        f"{product.name}: load {load.need.number} cannot be measured out. {exact} are to be added, "
        f"and no mark of {listed([str(mark) for mark in marks])} keeps the rate of the tank inside "
        f"the label. {_remedy(day, each)}"
    )
    return Finding("measure_too_coarse", message, product=product.name)


def _remedy(day: Day, each: TopUp) -> str:
    mark = finer_mark(
        rate=each.amount / each.extent,
        extent=each.extent,
        span=each.span_of_added,
        than=day.request.measures.for_form(each.product.kind.form)[-1],
    )
    if mark is None:
        return "The label’s range leaves no room to round in."
    return f"Use a measure with marks of {mark}."
