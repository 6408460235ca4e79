"""The ledger: sums, counts, and which lot is taken."""

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.label.labels import Form
from planner.core.shown import Units
from planner.core.stock.containers import amount_in, filled, form_of
from planner.core.stock.ledger import (
    Kind,
    Movement,
    Shelf,
    balance_of,
    balances_of,
    counted_difference,
    signed,
)
from planner.core.stock.lots import LotInStock, taken_from, to_load
from properties.core.errors import Refused
from properties.core.units import Quantity

MAY_1 = date(2026, 5, 1)
NOON = datetime(2026, 5, 1, 12, 0, tzinfo=UTC)
SHOP, TRUCK = 1, 2


def _moved(
    kind: Kind, amount: float, *, day: int = 1, told: int | None = None, lot: int | None = 1
) -> Movement:
    on = date(2026, 5, day)
    return Movement(Shelf(lot, SHOP), kind, amount, on, NOON + timedelta(days=(told or day) - 1))


def test_a_balance_is_what_came_in_less_what_went_out() -> None:
    balance = balance_of(
        [
            _moved(Kind.BOUGHT, 20.0),
            _moved(Kind.LOADED, -7.5, day=3),
            _moved(Kind.RETURNED, 1.25, day=3),
            _moved(Kind.DISPOSED, -0.25, day=4),
        ]
    )

    assert balance.amount == 13.5
    assert balance.by_kind[Kind.LOADED] == -7.5
    assert not balance.asks_for_count


def test_three_thirds_of_a_jug_leave_nothing() -> None:
    jug = 9.463529459
    thirds = [_moved(Kind.LOADED, -jug / 3) for _ in range(3)]

    assert balance_of([_moved(Kind.BOUGHT, jug), *thirds]).amount == 0


def test_a_load_beyond_the_stock_stands_and_asks_for_a_count() -> None:
    balance = balance_of([_moved(Kind.BOUGHT, 5.0), _moved(Kind.LOADED, -6.0, day=2)])

    assert balance.amount == -1.0
    assert balance.is_below_zero
    assert balance.asks_for_count


def test_a_count_adds_its_difference_and_leaves_what_was_told() -> None:
    told = [_moved(Kind.BOUGHT, 10.0), _moved(Kind.LOADED, -4.0, day=2)]
    difference = counted_difference(5.5, book=balance_of(told).amount)

    after = balance_of([*told, _moved(Kind.COUNTED, difference, day=3)])

    assert difference == -0.5
    assert after.amount == 5.5
    assert after.by_kind[Kind.LOADED] == -4.0
    assert not after.asks_for_count


def test_what_is_told_after_a_count_of_a_later_day_asks_for_another() -> None:
    counted = _moved(Kind.COUNTED, -0.5, day=5)
    bought = _moved(Kind.BOUGHT, 10.0)

    late = balance_of([bought, counted, _moved(Kind.LOADED, -1.0, day=4, told=6)])
    after = balance_of([bought, counted, _moved(Kind.LOADED, -1.0, day=6)])

    assert late.late == 1
    assert late.asks_for_count
    assert not after.asks_for_count


def test_lots_are_summed_up_by_themselves() -> None:
    ledger = [_moved(Kind.BOUGHT, 5.0), _moved(Kind.BOUGHT, 3.0, lot=2)]

    assert {shelf.lot: each.amount for shelf, each in balances_of(ledger).items()} == {1: 5, 2: 3}


@pytest.mark.parametrize("kind", [Kind.BOUGHT, Kind.RETURNED, Kind.LOADED, Kind.DISPOSED])
def test_a_kind_that_goes_one_way_takes_no_amount_below_zero(kind: Kind) -> None:
    with pytest.raises(Refused, match="not an amount above zero"):
        signed(kind, -1.0)


def test_loads_go_out_and_corrections_go_both_ways() -> None:
    assert signed(Kind.LOADED, 2.0) == -2.0
    assert signed(Kind.BOUGHT, 2.0) == 2.0
    assert signed(Kind.CORRECTED, -2.0) == -2.0


@pytest.mark.parametrize("amount", [0.0, float("nan"), float("inf")])
def test_nothing_is_no_movement(amount: float) -> None:
    with pytest.raises(Refused):
        signed(Kind.CORRECTED, amount)


@pytest.mark.parametrize("found", [-0.1, float("nan")])
def test_nobody_finds_less_than_nothing(found: float) -> None:
    with pytest.raises(Refused, match="less than nothing"):
        counted_difference(found, book=3.0)


# Amounts in whole millilitres, as a shelf can hold them.
amounts = st.integers(-50_000, 50_000).filter(bool).map(lambda ml: ml / 1000)
ledgers = st.lists(
    st.builds(
        _moved,
        st.sampled_from([Kind.CORRECTED, Kind.COUNTED]),
        amounts,
        day=st.integers(1, 28),
        lot=st.sampled_from([None, 1, 2]),
    ),
    max_size=25,
)


@given(ledger=ledgers, order=st.randoms(use_true_random=False))
def test_the_order_of_movements_does_not_change_the_balance(
    ledger: list[Movement], order: object
) -> None:
    other_way = list(ledger)
    order.shuffle(other_way)  # type: ignore[attr-defined]

    sums = {shelf: each.amount for shelf, each in balances_of(ledger).items()}

    assert {shelf: each.amount for shelf, each in balances_of(other_way).items()} == sums


@given(ledger=ledgers)
def test_the_balances_of_all_shelves_are_the_sum_of_all_movements(ledger: list[Movement]) -> None:
    in_ml = sum(round(row.amount * 1000) for row in ledger)

    total = sum(each.amount for each in balances_of(ledger).values())

    assert total * 1000 == pytest.approx(in_ml, abs=1e-6)


@given(ledger=ledgers, found_ml=st.integers(0, 50_000))
def test_after_a_count_the_balance_is_what_was_found(ledger: list[Movement], found_ml: int) -> None:
    found, rows = found_ml / 1000, [row for row in ledger if row.shelf.lot == 1]
    difference = counted_difference(found, book=balance_of(rows).amount)

    after = balance_of([*rows, _moved(Kind.COUNTED, difference, day=28)])

    assert after.amount == pytest.approx(found, abs=1e-9)


def _lot(number: int, amount: float, expires: date | None, *, bought: int = 1) -> LotInStock:
    return LotInStock(Shelf(number, SHOP), amount, expires, date(2026, 1, bought))


LOTS = [
    _lot(1, 4.0, None),
    _lot(2, 4.0, date(2027, 3, 31)),
    _lot(3, 4.0, date(2026, 8, 31)),
    _lot(4, 4.0, date(2026, 4, 30)),
    _lot(5, 4.0, date(2026, 8, 31), bought=9),
    _lot(6, 0.0, date(2026, 6, 30)),
]


def test_the_first_to_expire_comes_first_and_the_expired_never() -> None:
    assert [lot.shelf.lot for lot in to_load(LOTS, on=MAY_1)] == [3, 5, 2, 1]


def test_a_lot_is_good_on_its_last_day() -> None:
    assert next(lot.shelf.lot for lot in to_load(LOTS, on=date(2026, 4, 30))) == 4


def test_a_load_is_taken_lot_by_lot_and_the_rest_is_told() -> None:
    taken = taken_from(LOTS, 17.5, on=MAY_1)

    assert [(take.shelf.lot, take.amount) for take in taken.takes] == [
        (3, 4.0),
        (5, 4.0),
        (2, 4.0),
        (1, 4.0),
    ]
    assert taken.beyond == 1.5
    assert taken_from(LOTS, 0.0, on=MAY_1).takes == ()


@pytest.mark.parametrize(
    ("amount", "full", "opened"), [(20.0, 4, 0.0), (19.0, 3, 4.0), (0.0, 0, 0.0), (0.3 * 50, 3, 0)]
)
def test_an_amount_is_full_containers_and_an_opened_one(
    amount: float, full: int, opened: float
) -> None:
    told = filled(amount, size=5.0)

    assert (told.full, told.opened) == (full, opened)


def test_a_container_is_of_something_poured_or_weighed() -> None:
    assert form_of(Quantity(2.5, "gal")) is Form.LIQUID
    assert form_of(Quantity(50, "lb")) is Form.DRY
    with pytest.raises(Refused, match="not what a container holds"):
        form_of(Quantity(5, "ft"))
    with pytest.raises(Refused, match="more than nothing"):
        form_of(Quantity(0, "lb"))


@pytest.mark.parametrize(
    ("si", "form", "units", "told"),
    [
        (9.463529459, Form.LIQUID, Units.US, "2.5 gal"),
        (0.0295735295625, Form.LIQUID, Units.US, "1 fl oz"),
        (-1.5, Form.LIQUID, Units.METRIC, "-1.5 L"),
        (0.25, Form.DRY, Units.METRIC, "250 g"),
        (0.0, Form.DRY, Units.US, "0 lb"),
    ],
)
def test_an_amount_is_said_as_a_shelf_is_counted(
    si: float, form: Form, units: Units, told: str
) -> None:
    assert str(amount_in(si, form=form, units=units)) == told
