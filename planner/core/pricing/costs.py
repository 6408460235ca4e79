"""What a visit costs the firm: material, work, the way there, setting up, and overhead.

Every line is rounded to the cent, half up, so that the lines are the cost to the cent.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from planner.core.money import cents
from planner.core.pricing.book import Book
from planner.core.pricing.figures import Derived, Line, Told, line, summed, total_of
from planner.core.pricing.measured import (
    amount_told,
    area_told,
    exact,
    length_told,
    minutes_told,
)
from planner.core.pricing.work import UnitCost, Used, Visit
from properties.core.errors import FaultsFound, Refused
from properties.core.plane import DUST_M2
from properties.core.units import dimension_of

TO_THE_CENT = "To the cent, half up."
MATERIAL_SOURCE = (
    "Common practice: what is mixed, and the share that is spilt or left in containers, at what a "
    f"container costs; of several sizes the one that costs most for what it holds. {TO_THE_CENT}"
)
WORK_SOURCE = (
    "Common practice: minutes at the loaded wage (wage, taxes on it and insurance). The time in "
    "passes is that of the plan; where a plan knows of no passes, the pace of the price book "
    f"holds. {TO_THE_CENT}"
)
TIME_SOURCE = f"Common practice: minutes at the loaded wage. {TO_THE_CENT}"
OVERHEAD_SOURCE = f"Common practice: a share of all other cost. {TO_THE_CENT}"
MINUTES_PER_HOUR = 60


@dataclass(frozen=True)
class Cost:
    """The cost of a visit; the lines add up to the total, ``overhead`` the last of them."""

    material: tuple[Line, ...]
    work: Line
    trimming: Line
    travel: Line
    set_up: Line
    overhead: Line

    @property
    def by_area(self) -> tuple[Line, ...]:
        """What grows with the ground."""
        return (*self.material, self.work)

    @property
    def fixed(self) -> tuple[Line, ...]:
        """What stays whatever the ground."""
        return (self.trimming, self.travel, self.set_up)

    @property
    def lines(self) -> tuple[Line, ...]:
        """Every line, in the order of the page."""
        return (*self.by_area, *self.fixed, self.overhead)

    @property
    def total(self) -> Decimal:
        """All of it."""
        return total_of(self.lines)


def cost_of(visit: Visit, book: Book) -> Cost:
    """Work out what a visit costs the firm.

    Parameters
    ----------
    visit : Visit
        The visit. [m², m and s]
    book : Book
        What time and overhead cost. [currency]

    Returns
    -------
    Cost
        Its lines. [currency]

    Raises
    ------
    FaultsFound
        If something that it needs is not known: unknown is not zero.

    References
    ----------
    Each line names its own.
    """
    faults = [*_unknown_material(visit), *_unknown_time(visit, book)]
    if faults:
        raise FaultsFound(faults)
    material = tuple(
        _material(place, used, used.cost, book)
        for place, used in enumerate(visit.products)
        if used.cost is not None
    )
    costs = book.costs
    travel_min = costs.travel_min if visit.travel_min is None else visit.travel_min
    work, trimming = _work(visit, book), _trimming(visit, book)
    travel = _at_wage("travel", "The way there", Told("minutes of travel", travel_min, "min"), book)
    set_up = _at_wage(
        "set_up", "Setting up", Told("minutes to set up", costs.set_up_min, "min"), book
    )
    direct = (*material, work, trimming, travel, set_up)
    return Cost(material, work, trimming, travel, set_up, _overhead(direct, book))


def _unknown_material(visit: Visit) -> Iterator[Refused]:
    for place, used in enumerate(visit.products):
        field = f"products[{place}].cost"
        if used.cost is None:
            yield Refused(
                field,
                f"Nobody says what {used.name} costs, and unknown is not zero.",
                "Enter what a container of it costs.",
            )
        elif dimension_of(used.cost.size.unit) is not used.amount.dimension:
            yield Refused(
                field,
                f"{used.name} is used by {used.amount.dimension}, and its container is given by "
                f"{used.cost.size.dimension}.",
                f"Enter the {used.amount.dimension} that a container holds.",
            )


def _unknown_time(visit: Visit, book: Book) -> Iterator[Refused]:
    if visit.paced_m2 > DUST_M2 and book.costs.pace_min is None:
        yield Refused(
            "pace_min",
            f"The plan of {visit.name} has no passes for some of the ground, so nobody knows how "
            "long it takes.",
            f"Enter in the price book how many minutes {book.per_area:,} {_area_words(book)} take, "
            "or the speed of the machine.",
        )
    if visit.trims and book.trims and book.costs.trim_pace is None:
        yield Refused(
            "trim_pace",
            "The edge is trimmed, and nobody says how fast.",
            "Enter in the price book how much edge is trimmed in a minute.",
        )


def _area_words(book: Book) -> str:
    return {"m2": "m²"}.get(book.area_unit, book.area_unit)


def _material(place: int, used: Used, cost: UnitCost, book: Book) -> Line:
    size = Told("container", exact(cost.size.value), cost.size.unit)
    amount = amount_told("amount", used.amount, cost.size.unit)
    waste = Told("waste", book.costs.waste_percent, "%")
    price = Told("price of a container", cost.price, book.currency)
    worth = cents(amount.value * (1 + waste.value / 100) * price.value / size.value)
    return line(
        f"material[{place}]",
        used.name,
        worth,
        book.currency,
        Derived(
            "amount × (1 + waste / 100) × price of a container / container",
            (amount, waste, price, size),
            MATERIAL_SOURCE,
        ),
    )


def _wage(book: Book) -> Told:
    return Told("wage", book.costs.wage_per_hour, f"{book.currency}/h")


def _at_wage(key: str, name: str, minutes: Told, book: Book) -> Line:
    wage = _wage(book)
    worth = cents(minutes.value * wage.value / MINUTES_PER_HOUR)
    derived = Derived(f"{minutes.name} × wage / 60", (minutes, wage), TIME_SOURCE)
    return line(key, name, worth, book.currency, derived)


def _work(visit: Visit, book: Book) -> Line:
    passes, wage = minutes_told("minutes in passes", visit.passes_s), _wage(book)
    pace_min = book.costs.pace_min
    if visit.paced_m2 <= DUST_M2 or pace_min is None:
        return _at_wage("work", "Work on the ground", passes, book)
    paced = area_told("other ground", visit.paced_m2, book)
    pace = Told("pace", pace_min, f"min/{book.per_area} {book.area_unit}")
    minutes = passes.value + paced.value * pace.value / book.per_area
    return line(
        "work",
        "Work on the ground",
        cents(minutes * wage.value / MINUTES_PER_HOUR),
        book.currency,
        Derived(
            f"(minutes in passes + other ground × pace / {book.per_area}) × wage / 60",
            (passes, paced, pace, wage),
            WORK_SOURCE,
        ),
    )


def _trimming(visit: Visit, book: Book) -> Line:
    pace = book.costs.trim_pace
    if not (visit.trims and book.trims) or pace is None:
        none = Told("minutes of trimming", Decimal(0), "min")
        return _at_wage("trimming", "Trimming the edge", none, book)
    edge, wage = length_told("edge", visit.edge_m, book), _wage(book)
    trimmed = Told("trimmed in a minute", pace, f"{book.length_unit}/min")
    return line(
        "trimming",
        "Trimming the edge",
        cents(edge.value / trimmed.value * wage.value / MINUTES_PER_HOUR),
        book.currency,
        Derived(
            "edge / trimmed in a minute × wage / 60",
            (edge, trimmed, wage),
            TIME_SOURCE,
        ),
    )


def _overhead(direct: tuple[Line, ...], book: Book) -> Line:
    terms = [Told(f"cost {n}", each.amount, book.currency) for n, each in enumerate(direct, 1)]
    percent = Told("overhead", book.costs.overhead_percent, "%")
    overhead = line(
        "overhead",
        "Overhead",
        cents(total_of(direct) * percent.value / 100),
        book.currency,
        Derived(f"({summed(terms)}) × overhead / 100", (*terms, percent), OVERHEAD_SOURCE),
    )
    names = ", ".join(f"cost {n} is {each.name}" for n, each in enumerate(direct, 1))
    return overhead.explained(f"Overhead ({names})")
