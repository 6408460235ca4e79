"""Rounding an amount to what a jug, cup or scale shows, without leaving the label.

Holds in any consistent units: amounts are L or kg, extents m² or L of spray.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import takewhile
from types import MappingProxyType

from planner.core.label.labels import SAME_NUMBER, Form, Limits
from planner.core.shown import Units, in_unit
from properties.core.units import Quantity

#: Where a label gives no lowest rate, a measure may fall this share short of the rate asked for.
SHORTFALL_SHARE = 0.05
#: A coarse measure is good enough if it comes this near, as a share of the amount.
NEAR_ENOUGH_SHARE = 0.05
_FINEST_SHARE = 1e-3  # of the amount: nobody measures finer than a thousandth


@dataclass(frozen=True)
class Measures:
    """The marks of what is on the truck, coarsest first."""

    liquid: tuple[Quantity, ...]
    dry: tuple[Quantity, ...]

    def for_form(self, form: Form) -> tuple[Quantity, ...]:
        """Choose the marks that a liquid or a weighed product is read on."""
        return self.dry if form is Form.DRY else self.liquid


USUAL_MEASURES: Mapping[Units, Measures] = MappingProxyType(
    {
        Units.US: Measures(
            # A jug, a cup, and a large and a small syringe, which show millilitres.
            liquid=(
                Quantity(1.0, "fl oz"),
                Quantity(0.1, "fl oz"),
                Quantity(1.0, "mL"),
                Quantity(0.1, "mL"),
            ),
            dry=(Quantity(0.05, "oz wt"),),
        ),
        Units.METRIC: Measures(
            liquid=(Quantity(10.0, "mL"), Quantity(1.0, "mL"), Quantity(0.1, "mL")),
            dry=(Quantity(1.0, "g"),),
        ),
    }
)


#: Scales for what a spreader puts down.
USUAL_SCALES: Mapping[Units, tuple[Quantity, ...]] = MappingProxyType(
    {
        Units.US: (Quantity(0.1, "lb"), Quantity(0.01, "lb")),
        Units.METRIC: (Quantity(0.01, "kg"), Quantity(0.001, "kg")),
    }
)


@dataclass(frozen=True)
class Measured:
    """So many marks of one measure."""

    marks: int
    mark: Quantity

    @property
    def si(self) -> float:
        """The amount in L or kg."""
        return self.quantity.si

    @property
    def quantity(self) -> Quantity:
        """The amount as the measure shows it: 3 marks of 0.1 are 0.3 to the last digit."""
        return Quantity(float(self.marks * Decimal(repr(self.mark.value))), self.mark.unit)

    def shown_in(self, unit: str) -> Quantity:
        """The amount in a unit of its kind; unchanged where that is the measure's own."""
        return in_unit(self.quantity, unit)


@dataclass(frozen=True)
class Span:
    """The effective rates that a rounded amount may have, both ends known."""

    lowest: float
    highest: float

    def holds(self, rate: float) -> bool:
        """Whether a rate lies in the span, but for the last digits of a float."""
        return self.lowest * (1 - SAME_NUMBER) <= rate <= self.highest * (1 + SAME_NUMBER)


def span_of(rate: float, limits: Limits, *, cap: float = math.inf) -> Span:
    """Find the rates that rounding may lead to.

    An unknown highest rate is taken as the rate asked for, so that rounding
    never goes up into the unknown. An unknown lowest rate is taken as 95 % of it.

    Parameters
    ----------
    rate : float
        The rate asked for, > 0. [L or kg per m² or L]
    limits : Limits
        What the label says, either end of which may be unknown. [-]
    cap : float
        The most that the ground may still get. [L or kg per m² or L]

    Returns
    -------
    Span
        The rates allowed. [L or kg per m² or L]

    Raises
    ------
    Nothing
        A rate outside the label is found before.

    References
    ----------
    Our own rule: the safe side is the default.
    """
    return Span(
        lowest=rate * (1 - SHORTFALL_SHARE) if limits.lowest is None else limits.lowest.si,
        highest=min(cap, rate if limits.highest is None else limits.highest.si),
    )


def to_measure(
    *, rate: float, extent: float, span: Span, marks: Sequence[Quantity]
) -> Measured | None:
    """Round an amount to what a measure shows, with the rate kept in the span.

    Of the two marks of a measure either side of the amount, those whose
    effective rate is in the span count; the nearer wins, and the lower if they
    are equally near. The coarsest measure that comes within 5 % of the amount is
    taken; where none does, the one that comes nearest.

    Parameters
    ----------
    rate : float
        The rate asked for, > 0. [L or kg per m² or L]
    extent : float
        The area or the volume of spray it is for, > 0. [m² or L]
    span : Span
        The effective rates allowed. [L or kg per m² or L]
    marks : Sequence[Quantity]
        The distance between two marks of each measure, coarsest first. [L or kg]

    Returns
    -------
    Measured or None
        What to measure, or None where no measure keeps the rate. [L or kg]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Our own rule. 5 % is the usual acceptance of an output check (Pesticide
    Environmental Stewardship, NC State, Spray Gun calibration page).
    """
    wanted = rate * extent
    readings = [
        reading
        for mark in marks
        if (reading := _nearest_mark(wanted, extent=extent, span=span, mark=mark)) is not None
    ]
    near = (reading for reading in readings if _off(reading, wanted) <= NEAR_ENOUGH_SHARE)
    nearest = min(readings, key=lambda reading: _off(reading, wanted), default=None)
    return next(near, nearest)


def _nearest_mark(wanted: float, *, extent: float, span: Span, mark: Quantity) -> Measured | None:
    exact = wanted / mark.si  # in marks
    nearest = round(exact)
    below = nearest if math.isclose(exact, nearest, rel_tol=SAME_NUMBER) else math.floor(exact)
    readable = [
        count for count in (below, below + 1) if count > 0 and span.holds(count * mark.si / extent)
    ]
    count = min(readable, key=lambda count: (round(abs(count - exact), 9), count), default=None)
    return None if count is None else Measured(count, mark)


def _off(reading: Measured, wanted: float) -> float:
    """How far a reading is from the amount wanted, as a share of it."""
    return round(abs(reading.si / wanted - 1), 9)


def finer_mark(*, rate: float, extent: float, span: Span, than: Quantity) -> Quantity | None:
    """Find the coarsest usual mark (1, 2 or 5 with zeros) that would keep the rate in the span.

    Parameters
    ----------
    rate : float
        The rate asked for, > 0. [L or kg per m² or L]
    extent : float
        The area or the volume of spray it is for, > 0. [m² or L]
    span : Span
        The effective rates allowed. [L or kg per m² or L]
    than : Quantity
        The finest mark at hand; the answer is finer and in its unit. [L or kg]

    Returns
    -------
    Quantity or None
        The mark, or None where the span is too narrow for any. [L or kg]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Our own derivation.
    """
    finest = rate * extent * _FINEST_SHARE
    worth_trying = takewhile(lambda mark: mark.si >= finest, _usual_marks(than))
    for mark in worth_trying:
        if to_measure(rate=rate, extent=extent, span=span, marks=[mark]) is not None:
            return mark
    return None


def extent_needed(*, span: Span, mark: Quantity) -> float | None:
    """Find how large a load must be for some mark to lie in the span for certain.

    The amounts allowed are an interval as wide as the extent times the width of
    the span. Once it is as wide as the distance of two marks, it holds one.

    Parameters
    ----------
    span : Span
        The effective rates allowed. [L or kg per m² or L]
    mark : Quantity
        The distance between two marks, > 0. [L or kg]

    Returns
    -------
    float or None
        The area or volume of spray, or None where the span is a single rate. [m² or L]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Our own derivation.
    """
    width = span.highest - span.lowest
    return mark.si / width if width > span.highest * SAME_NUMBER else None


def _usual_marks(than: Quantity) -> Iterator[Quantity]:
    power = math.ceil(math.log10(than.value))
    while True:
        for digit in (5, 2, 1):
            value = float(Decimal(digit).scaleb(power))
            if value < than.value:
                yield Quantity(value, than.unit)
        power -= 1
