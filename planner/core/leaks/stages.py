"""What one visit costs at a stage: read from a frozen price, worked out by a book, or used.

Money in the firm's currency, areas in m².
"""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

from planner.core.leaks.leaks import NOTHING_KNOWN, Stage
from planner.core.money import ZERO, cents, decimal_of
from planner.core.pricing import Book, UnitCost, Visit
from planner.core.pricing.costs import Cost, cost_of
from planner.core.report.quantities import Json
from properties.core.errors import FaultsFound
from properties.core.units import Quantity

#: The lines of a cost that are somebody's time.
TIMES = ("work", "trimming", "travel", "set_up")
_AMOUNT_PLACES = 6


def quoted_stage(price: Json, *, name: str) -> Stage:
    """Read what a quote reckoned with for one visit, as its price was frozen.

    Parameters
    ----------
    price : dict
        A price as ``price_as_json`` wrote it. [currency]
    name : str
        What the visit is called. [-]

    Returns
    -------
    Stage
        Its material, its time and its area; nothing known where no one visit has the
        name. [currency, m²]

    Raises
    ------
    Nothing
        A visit that is not there is not known.

    References
    ----------
    Our own format: see ``price_as_json``.
    """
    found = [n for n, visit in enumerate(price["visits"]) if visit["name"] == name]
    if len(found) != 1:
        return NOTHING_KNOWN
    lines = price["visits"][found[0]]["costs"]
    return Stage(
        {line["name"]: Decimal(line["amount"]) for line in lines if _is_material(line["key"])},
        sum((Decimal(line["amount"]) for line in lines if line["key"] in TIMES), ZERO),
        _area(price, f"visits[{found[0]}].per_area"),
    )


def planned_stage(visit: Visit, book: Book | None) -> Stage:
    """Work out what the plan of a visit costs by a price book, as a price does.

    A product without a known price is left out, and so is time that nobody can tell.

    Parameters
    ----------
    visit : Visit
        What a price needs of the plan. [m², m, s]
    book : Book or None
        What time costs and what is reckoned as waste; None where there is none. [currency]

    Returns
    -------
    Stage
        Its material, its time and its area. [currency, m²]

    Raises
    ------
    Nothing
        What is not known is left out.

    References
    ----------
    See ``cost_of``: the cost of a price, without the overhead.
    """
    if book is None:
        return Stage(area_m2=visit.area_m2)
    known = tuple(
        used
        for used in visit.products
        if used.cost is not None and used.cost.size.dimension is used.amount.dimension
    )
    priced = replace(visit, products=known)
    try:
        cost = cost_of(priced, book)
    except FaultsFound:
        untimed = replace(priced, paced_m2=0.0, trims=False)
        return Stage(_material(cost_of(untimed, book)), None, visit.area_m2)
    times = (cost.work, cost.trimming, cost.travel, cost.set_up)
    return Stage(_material(cost), sum((line.amount for line in times), ZERO), visit.area_m2)


def material_cost(amount: Quantity, cost: UnitCost) -> Decimal:
    """Work out what an amount of product costs that was really used.

    Parameters
    ----------
    amount : Quantity
        What was used, ≥ 0. [volume or weight]
    cost : UnitCost
        What a container of it costs. [currency]

    Returns
    -------
    Decimal
        The cost to the cent, half up; what is spilt is in what was used. [currency]

    Raises
    ------
    Refused
        If one is a volume and the other a weight.

    References
    ----------
    Common practice, as in a price.
    """
    used = decimal_of(amount.to(cost.size.unit).value, places=_AMOUNT_PLACES)
    size = decimal_of(cost.size.value, places=_AMOUNT_PLACES)
    return cents(used * cost.price / size)


def _material(cost: Cost) -> Mapping[str, Decimal]:
    return {line.name: line.amount for line in cost.material}


def _is_material(key: str) -> bool:
    return key.startswith("material[")


def _area(price: Json, key: str) -> float | None:
    """The area that a price stands for: an input of its price per area."""
    inputs = (figure["inputs"] for figure in price["working"] if figure["figure"] == key)
    areas = [each for told in inputs for each in told if each["name"] == "area"]
    return Quantity(float(areas[0]["value"]), areas[0]["unit"]).si if areas else None
