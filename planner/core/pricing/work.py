"""A piece of work to be priced: its visits, what each uses, and what is taxed."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from properties.core.units import Quantity


@dataclass(frozen=True)
class UnitCost:
    """What a container of a product costs the firm."""

    price: Decimal
    size: Quantity


@dataclass(frozen=True)
class Used:
    """A product of one visit: how much is mixed, how far off that may be 95 times in 100.

    ``off`` and ``cost`` are None where nobody knows.
    """

    name: str
    amount: Quantity
    off: Quantity | None
    cost: UnitCost | None


@dataclass(frozen=True)
class Visit:
    """One visit to a place, as its plan has it.

    ``passes_s`` is the time in passes and ``paced_m2`` the ground whose time no plan knows.
    ``off_m2`` is how far the area may be off 95 times in 100; where it is None, ``why_not``
    says why. ``travel_min`` is None where that of the book holds.
    """

    name: str
    area_m2: float
    edge_m: float
    passes_s: float
    paced_m2: float
    products: tuple[Used, ...]
    off_m2: float | None = None
    why_not: str = ""
    travel_min: Decimal | None = None
    trims: bool = True


class Taxed(StrEnum):
    """What a tax falls on. The material bears its share of the price in proportion to cost."""

    EVERYTHING = "everything"
    MATERIAL = "material"
    SERVICE = "service"


@dataclass(frozen=True)
class TaxRate:
    """A rate of tax that holds at the place on the day. An example nobody has checked says so."""

    name: str
    percent: Decimal
    taxed: Taxed
    source: str
    is_example: bool = False


@dataclass(frozen=True)
class Work:
    """What is priced as one: a visit, or the rounds of a season, and how it is paid."""

    name: str
    on: date
    visits: tuple[Visit, ...]
    taxes: tuple[TaxRate, ...] = ()
    prepaid: bool = False
