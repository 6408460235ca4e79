"""What is taken off: each discount in its turn from what the ones before have left."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from planner.core.findings import Finding
from planner.core.money import cents
from planner.core.pricing.book import Book, Discount, When
from planner.core.pricing.costs import TO_THE_CENT
from planner.core.pricing.figures import Derived, Line, Told, line
from planner.core.pricing.visits import VisitPrice
from planner.core.pricing.work import Work

SHARE_SOURCE = (
    "The price book: a share of what is left when its turn comes, in the order of the book. "
    f"{TO_THE_CENT}"
)
AMOUNT_SOURCE = "The price book: an amount, in the order of the book; never more than is left."


@dataclass(frozen=True)
class TakenOff:
    """The discounts as lines below zero, what is left of the price, and what to say of them."""

    lines: tuple[Line, ...]
    left: Decimal
    warnings: tuple[Finding, ...]


def taken_off(visits: Sequence[VisitPrice], work: Work, book: Book) -> TakenOff:
    """Take every discount that is due off the prices of the visits.

    Parameters
    ----------
    visits : Sequence of VisitPrice
        The prices of the visits. [currency]
    work : Work
        How many visits there are, and whether all is paid ahead. [-]
    book : Book
        The discounts, in their order. [currency or %]

    Returns
    -------
    TakenOff
        The discounts and what they leave, never below zero. [currency]

    Raises
    ------
    Nothing
        A discount of more than is left is cut down to it, with a word.

    References
    ----------
    The firm’s own price book.
    """
    left = sum((each.price for each in visits), Decimal("0.00"))
    lines: list[Line] = []
    warnings: list[Finding] = []
    for discount in book.discounts:
        if not _is_due(discount, work):
            continue
        found = _line(len(lines), discount, left, book)
        if discount.amount is not None and discount.amount > left:
            warnings.append(_cut(discount, left, book))
        lines.append(found)
        left += found.amount
    return TakenOff(tuple(lines), left, tuple(warnings))


def _is_due(discount: Discount, work: Work) -> bool:
    if discount.when is When.PREPAID:
        return work.prepaid
    return len(work.visits) >= discount.from_visits


def _line(place: int, discount: Discount, left: Decimal, book: Book) -> Line:
    before = Told("what is left", left, book.currency)
    if discount.amount is not None:
        off = min(cents(discount.amount), left)
        amount = Told("discount", discount.amount, book.currency)
        derived = Derived("−min(discount, what is left)", (amount, before), AMOUNT_SOURCE)
    else:
        percent = Told("discount", discount.percent or Decimal(0), "%")
        off = cents(left * percent.value / 100)
        derived = Derived("−(what is left × discount / 100)", (before, percent), SHARE_SOURCE)
    return line(f"discounts[{place}]", discount.name, -off, book.currency, derived)


def _cut(discount: Discount, left: Decimal, book: Book) -> Finding:
    return Finding(
        "discount_cut",
        f"{discount.name} is {discount.amount:,.2f} {book.currency}, and only {left:,.2f} is left "
        "of the price: no more than that is taken off.",
    )
