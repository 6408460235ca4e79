"""A price book, a visit and a piece of work to change in tests; all of them invented."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from planner.core.money import Step, Way
from planner.core.pricing import (
    Band,
    Banding,
    Basis,
    Book,
    Costs,
    Taxed,
    TaxRate,
    UnitCost,
    Used,
    Visit,
    Work,
)
from planner.core.shown import Units
from properties.core.units import Quantity

ON = date(2026, 11, 25)
SQ_FT_M2 = 0.3048**2

COSTS = Costs(
    wage_per_hour=Decimal(36),
    travel_min=Decimal(10),
    set_up_min=Decimal(5),
    overhead_percent=Decimal(20),
    waste_percent=Decimal(5),
    pace_min=Decimal("2.5"),
    trim_pace=Decimal(50),
    measuring=Decimal(40),
)
BOOK = Book(
    name="Invented book",
    version=3,
    currency="USD",
    units=Units.US,
    basis=Basis.AREA,
    banding=Banding.MARGINAL,
    bands=(
        Band(Decimal(5000), Decimal(12)),
        Band(Decimal(10000), Decimal(9)),
        Band(None, Decimal(7)),
    ),
    minimum=Decimal(45),
    trim=None,
    costs=COSTS,
    margin_percent=Decimal(40),
    discounts=(),
    step=Step.CENT,
    way=Way.HALF_UP,
)

# 2.5 gal of an invented product for 160.00: half a dollar for a fluid ounce.
PRODUCT = Used(
    "Invented herbicide",
    Quantity(12.0, "fl oz"),
    Quantity(0.6, "fl oz"),
    UnitCost(Decimal("160.00"), Quantity(2.5, "gal")),
)
VISIT = Visit(
    name="Visit",
    area_m2=8000 * SQ_FT_M2,
    edge_m=400 * 0.3048,
    passes_s=15 * 60,
    paced_m2=0,
    products=(PRODUCT,),
    off_m2=400 * SQ_FT_M2,
)
NO_TAX = TaxRate("Not due", Decimal(0), Taxed.EVERYTHING, source="Invented")


def book(**changes: Any) -> Book:
    """The book with members changed, those of its costs by their own name."""
    of_costs = {name: changes.pop(name) for name in list(changes) if hasattr(COSTS, name)}
    return replace(BOOK, costs=replace(COSTS, **of_costs), **changes)


def visit(**changes: Any) -> Visit:
    return replace(VISIT, **changes)


def work(*visits: Visit, **changes: Any) -> Work:
    return replace(Work("Invented work", ON, visits or (VISIT,)), **changes)
