"""Money: exact decimals, and every rounding by a rule that is named.

An amount is a ``Decimal`` in the firm's currency. A binary float is none: 0.1 is not a
tenth there. What was measured comes in through ``decimal_of``, which says to how many places.
"""

from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_DOWN, ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal, localcontext
from enum import StrEnum
from fractions import Fraction

from properties.core.errors import Refused

Money = Decimal

ZERO = Decimal(0)
CENT = Decimal("0.01")
#: More than any firm owns: beyond it somebody has mistyped, and cents would be lost.
MOST = Decimal(1_000_000_000_000)

_DIGITS = 60  # so that no product of two amounts is cut off before it is rounded


class Way(StrEnum):
    """Which way an amount between two steps goes."""

    HALF_UP = "half up"
    HALF_EVEN = "half even"
    UP = "up"

    @property
    def mode(self) -> str:
        """The same to the decimal module."""
        return {
            Way.HALF_UP: ROUND_HALF_UP,
            Way.HALF_EVEN: ROUND_HALF_EVEN,
            Way.UP: ROUND_CEILING,
        }[self]


class Step(StrEnum):
    """What an amount is rounded to."""

    CENT = "0.01"
    FIVE_CENTS = "0.05"
    DOLLAR = "1"

    @property
    def amount(self) -> Decimal:
        """The step as money."""
        return Decimal(self.value)


def decimal_of(number: float, *, places: int) -> Decimal:
    """Make an exact decimal of something measured, with so many places kept.

    Parameters
    ----------
    number : float
        Something measured: an area, a time, an amount of product; finite. [any unit]
    places : int
        How many digits after the point are kept, 0 to 12. [-]

    Returns
    -------
    Decimal
        The number rounded half to even. [as the number]

    Raises
    ------
    Refused
        If the number is not finite.

    References
    ----------
    Our own rule. Half to even as IEEE 754 rounds, since a measured number has no side to favour.
    """
    exact = Decimal(number)
    _require_finite(exact)
    with localcontext() as context:
        context.prec = 400  # the smallest float has its first digit 308 places behind the point
        return exact.quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN)


def rounded(amount: Decimal, *, to: Step, way: Way) -> Decimal:
    """Round an amount to whole steps.

    Parameters
    ----------
    amount : Decimal
        An amount. [currency]
    to : Step
        The step. [currency]
    way : Way
        Where an amount between two steps goes. Up is towards more money, also below zero. [-]

    Returns
    -------
    Decimal
        A whole number of steps, with two places. [currency]

    Raises
    ------
    Refused
        If the amount is not finite or beyond anything a firm could own.
    TypeError
        If it is no decimal: a float has no place in money.

    References
    ----------
    Common practice: the multiple of the step that the rule names.
    """
    _require_money(amount)
    with localcontext() as context:
        context.prec = _DIGITS
        steps = (amount / to.amount).quantize(Decimal(1), way.mode)
        # A rest of less than half a step is nothing, and nothing has no sign.
        return (steps * to.amount).quantize(CENT) + 0


def cents(amount: Decimal) -> Decimal:
    """Round an amount to the cent, half a cent up.

    Parameters
    ----------
    amount : Decimal
        An amount. [currency]

    Returns
    -------
    Decimal
        The amount with two places. [currency]

    Raises
    ------
    Refused
        If the amount is not finite or beyond anything a firm could own.
    TypeError
        If it is no decimal.

    References
    ----------
    Common practice, and what the tax rule of ``tax_of`` amounts to.
    """
    return rounded(amount, to=Step.CENT, way=Way.HALF_UP)


def tax_of(amount: Decimal, *, rate_percent: Decimal) -> Decimal:
    """Work out the tax on an amount: carried to the third place, up if that is above four.

    What stands behind the third place is cut off, so that 0.1249 is 0.12. The rates of a
    state and of a city that fall on the same amount are added first and rounded once.

    Parameters
    ----------
    amount : Decimal
        What is taxed. [currency]
    rate_percent : Decimal
        The rate, 0 to 100. [%]

    Returns
    -------
    Decimal
        The tax, to the cent. [currency]

    Raises
    ------
    Refused
        If the rate is not from 0 to 100, or the amount is not finite.
    TypeError
        If one of them is no decimal.

    References
    ----------
    Streamlined Sales and Use Tax Agreement, section 324, as in R.I. Gen. Laws § 44-18.1-25 and
    N.D. Admin. Code 81-04.1-01-29. Other places have other rules: check yours.
    """
    _require_money(amount)
    _require_money(rate_percent)
    if not 0 <= rate_percent <= 100:
        raise Refused(
            "rate_percent",
            f"{rate_percent:f} % is not a rate of tax.",
            "Give a number from 0 to 100.",
        )
    with localcontext() as context:
        context.prec = _DIGITS
        carried = (amount * rate_percent / 100).quantize(Decimal("0.001"), ROUND_DOWN)
        return carried.quantize(CENT, ROUND_HALF_UP)


def shared_out(total: Decimal, weights: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """Share an amount out by weights, so that the shares are the amount to the cent.

    Every share is cut down to the cent, and the cents left over go one by one to those that
    lost most; of two that lost the same, to the one named first.

    Parameters
    ----------
    total : Decimal
        A whole number of cents; below zero it is shared out as its opposite. [currency]
    weights : Sequence of Decimal
        How much each bears, none below zero and not all zero. [any unit]

    Returns
    -------
    tuple of Decimal
        The shares, in the order of the weights. [currency]

    Raises
    ------
    Refused
        If the total is not whole cents, or the weights share nothing out.
    TypeError
        If one of them is no decimal.

    References
    ----------
    The method of the largest remainder (Hamilton's), as used to apportion seats: M. L. Balinski
    and H. P. Young, Fair Representation, Yale University Press 1982, chapter 2.
    """
    _require_shares(total, weights)
    sign = -1 if total < 0 else 1
    whole = int(abs(total) * 100)
    parts = [Fraction(weight) for weight in weights]
    exact = [whole * part / sum(parts) for part in parts]
    cut = [int(share) for share in exact]
    most_lost = sorted(range(len(exact)), key=lambda place: cut[place] - exact[place])
    for place in most_lost[: whole - sum(cut)]:
        cut[place] += 1
    return tuple(Decimal(sign * share) * CENT for share in cut)


def _require_shares(total: Decimal, weights: Sequence[Decimal]) -> None:
    _require_money(total)
    for weight in weights:
        _require_money(weight)
    if total != total.quantize(CENT):
        raise Refused(
            "total", f"{total:f} is not a whole number of cents.", "Round it before you share it."
        )
    if any(weight < 0 for weight in weights):
        raise Refused(
            "weights", "A share below zero bears nothing.", "Give shares of zero or more."
        )
    if not any(weights):
        raise Refused(
            "weights", "Nobody is there to bear a share.", "Give at least one share above zero."
        )


def _require_money(amount: object) -> None:
    if not isinstance(amount, Decimal):
        raise TypeError(f"Money is a Decimal, and {amount!r} is a {type(amount).__name__}.")
    _require_finite(amount)


def _require_finite(amount: Decimal) -> None:
    if not (amount.is_finite() and abs(amount) <= MOST):
        raise Refused(
            "amount", "This is not an amount that anybody could pay.", "Check what was entered."
        )
