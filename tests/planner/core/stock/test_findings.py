"""What is said of a stock, and how a balance came about."""

from datetime import UTC, date, datetime

import pytest

from planner.core.label.labels import Form
from planner.core.shown import Units
from planner.core.stock.figures import balance_figure
from planner.core.stock.findings import NamedShelf, Reader, stock_findings
from planner.core.stock.ledger import Balance, Kind, Movement, Shelf, balance_of
from planner.core.stock.lots import LotInStock

MAY_1 = date(2026, 5, 1)
US = Reader(Form.LIQUID, Units.US)
GALLON = 3.785411784  # NIST Handbook 44, Appendix C


def _codes(amount: float, expires: date | None, *, lot: int | None = 1, late: int = 0) -> list[str]:
    state = LotInStock(Shelf(lot, 1), amount, expires, date(2026, 1, 5))
    shelf = NamedShelf("Shed", "lot A-17", state, Balance(amount, {}, late))
    return [each.code for each in stock_findings([shelf], on=MAY_1, reader=US).warnings]


@pytest.mark.parametrize(
    ("amount", "expires", "codes"),
    [
        (3.0, date(2027, 5, 1), []),
        (-0.5, date(2027, 5, 1), ["stock_below_zero"]),
        (3.0, None, ["stock_expiry_unknown"]),
        (3.0, date(2026, 4, 30), ["stock_expired"]),
        (3.0, date(2026, 5, 1), ["stock_expires_soon"]),
        (3.0, date(2026, 6, 30), ["stock_expires_soon"]),
        (3.0, date(2026, 7, 1), []),
        (0.0, date(2026, 4, 30), []),
    ],
)
def test_a_shelf_says_what_to_do_about_it(
    amount: float, expires: date | None, codes: list[str]
) -> None:
    assert _codes(amount, expires) == codes


def test_what_is_of_no_lot_has_no_expiry_to_copy() -> None:
    assert _codes(3.0, None, lot=None) == []


@pytest.mark.parametrize(("late", "words"), [(1, "1 thing of"), (2, "2 things of")])
def test_what_was_told_after_a_count_asks_for_another(late: int, words: str) -> None:
    state = LotInStock(Shelf(1, 1), 2.0, date(2028, 1, 1), date(2026, 1, 5))
    shelf = NamedShelf("Shed", "lot A-17", state, Balance(2.0, {}, late))

    (finding,) = stock_findings([shelf], on=MAY_1, reader=US).warnings

    assert finding.code == "stock_told_after_count"
    assert words in finding.message


def test_what_is_below_zero_is_said_in_the_readers_units() -> None:
    state = LotInStock(Shelf(1, 1), -2 * GALLON, date(2028, 1, 1), date(2026, 1, 5))
    shelf = NamedShelf("Shed", "lot A-17", state, Balance(-2 * GALLON, {}))

    (finding,) = stock_findings([shelf], on=MAY_1, reader=US).warnings

    assert finding.message.startswith("Shed, lot A-17: 2 gal more went out")


def test_the_inputs_of_a_balance_add_up_to_it() -> None:
    at = datetime(2026, 5, 1, tzinfo=UTC)
    rows = [
        Movement(Shelf(1, 1), kind, gallons * GALLON, MAY_1, at)
        for kind, gallons in ((Kind.BOUGHT, 5.0), (Kind.LOADED, -1.5), (Kind.COUNTED, -0.25))
    ]

    figure = balance_figure(balance_of(rows), name="In stock", form=Form.LIQUID, units=Units.US)

    assert figure.formula == "bought + loaded + counted_differences"
    assert [round(each.quantity.value, 9) for each in figure.inputs] == [5.0, -1.5, -0.25]
    assert figure.result.value == pytest.approx(3.25)
    assert figure.result.unit == "gal"
