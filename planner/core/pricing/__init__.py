"""The price of a piece of work: its make-up, its range, and what it can bear.

Money is ``Decimal`` in the currency of the price book; areas, lengths and times of the
plan become decimals in one place (``measured``).
"""

from planner.core.pricing.book import Band, Banding, Basis, Book, Costs, Discount, When
from planner.core.pricing.price import Price, price_of
from planner.core.pricing.report import price_as_json
from planner.core.pricing.work import Taxed, TaxRate, UnitCost, Used, Visit, Work

__all__ = [
    "Band",
    "Banding",
    "Basis",
    "Book",
    "Costs",
    "Discount",
    "Price",
    "TaxRate",
    "Taxed",
    "UnitCost",
    "Used",
    "Visit",
    "When",
    "Work",
    "price_as_json",
    "price_of",
]
