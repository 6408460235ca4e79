"""A table of partial loads: so much spray in a tank that was empty, so much of each product.

Volumes in L, amounts in L or kg, areas in m².
"""

from collections.abc import Iterator
from dataclasses import dataclass

from planner.core.day.filling import concentration
from planner.core.day.whole import Day
from planner.core.label.rates import area_sprayed_m2
from planner.core.mix.products import Product
from planner.core.shown import in_unit
from properties.core.units import Quantity

#: Between two rows, in units of spray as shown: the first that gives a few rows.
STEPS = {"gal": (10.0, 1.0, 0.1), "L": (50.0, 5.0, 0.5)}
FEWEST_ROWS = 2
MOST_ROWS = 100


@dataclass(frozen=True)
class Partial:
    """So much finished spray, the ground it is enough for, and each product in it."""

    volume: Quantity
    area_m2: float
    amounts: tuple[tuple[Product, float], ...]


def partial_loads(day: Day) -> tuple[Partial, ...]:
    """List partial loads in even steps, up to what the tank may hold.

    Parameters
    ----------
    day : Day
        The route worked out. [L]

    Returns
    -------
    tuple[Partial, ...]
        A row for each step, the last for the whole tank. [L, L or kg, m²]

    Raises
    ------
    Nothing
        Every tank has a table.

    References
    ----------
    Common practice: product in a partial load = its volume × concentration.
    """
    return tuple(_row(volume, day) for volume in _volumes(day))


def _volumes(day: Day) -> Iterator[Quantity]:
    unit = day.shown.spray
    most = in_unit(Quantity(day.limits.holds_l, "L"), unit).value
    fitting = (step for step in STEPS[unit] if most / step >= FEWEST_ROWS)
    step = max(next(fitting, most), most / MOST_ROWS)
    for row in range(1, MOST_ROWS + 1):
        if row * step < most * (1 - 1e-9):
            yield Quantity(row * step, unit)
    yield Quantity(most, unit)


def _row(volume: Quantity, day: Day) -> Partial:
    output = day.output.l_per_m2
    amounts = tuple(
        (product, volume.si * concentration(product, output_l_per_m2=output))
        for product in day.products
    )
    return Partial(volume, area_sprayed_m2(spray_l=volume.si, output_l_per_m2=output), amounts)
