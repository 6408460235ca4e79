"""Invented jobs, lots and containers for tests of the buying list."""

from datetime import date, timedelta
from decimal import Decimal

from hypothesis import strategies as st

from planner.core.calibration.spread import StandardError
from planner.core.stock.covering import Offer
from planner.core.stock.ledger import Shelf
from planner.core.stock.lots import LotInStock
from planner.core.stock.needs import Need

MAY_1 = date(2026, 5, 1)


def job(day: int, amount: float, *, share: float = 0.0) -> Need:
    """A job so many days after the first of May, with its own ground."""
    return Need(MAY_1 + timedelta(days=day), amount, {f"ground {day}": amount * share})


def lot(number: int, amount: float, expires: date | None = None) -> LotInStock:
    """What is there of a lot."""
    return LotInStock(Shelf(number, 1), amount, expires, date(2026, 1, 5))


def offer(key: int, size: float, price: str | None = None, *, lead: int | None = None) -> Offer:
    """A size of container."""
    return Offer(key, size, None if price is None else Decimal(price), lead)


millilitres = st.integers(1, 30_000).map(lambda ml: ml / 1000)
offers = st.lists(
    st.tuples(st.integers(250, 20_000), st.integers(100, 40_000)), min_size=1, max_size=3
).map(
    lambda told: [
        Offer(key, ml / 1000, Decimal(cents) / 100) for key, (ml, cents) in enumerate(told)
    ]
)
jobs = st.lists(
    st.builds(
        Need,
        st.integers(0, 150).map(lambda day: MAY_1 + timedelta(days=day)),
        millilitres,
        st.dictionaries(st.sampled_from(["a", "b"]), millilitres.map(lambda ml: ml / 20)),
        st.fixed_dictionaries({}, optional={"boom": st.just(StandardError(0.2, 4))}),
    ),
    max_size=10,
)
lots = st.lists(
    st.tuples(
        st.integers(0, 20_000).map(lambda ml: ml / 1000),
        st.none() | st.integers(-30, 200).map(lambda day: MAY_1 + timedelta(days=day)),
    ),
    max_size=4,
).map(lambda told: [lot(n, amount, expires) for n, (amount, expires) in enumerate(told)])
