"""The units a plan is shown in, and how a number is said in a sentence."""

import math
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from properties.core.units import Dimension, Quantity, quantity_of_si


class Units(StrEnum):
    """The two families of units a person can ask for."""

    US = "us"
    METRIC = "metric"


#: Kinds of rate, or amounts for each plant, of what is weighed.
_WEIGHED = {Dimension.MASS_PER_AREA, Dimension.MASS_PER_VOLUME, Dimension.MASS}
#: Area × rate over this is a weight: g in a kg, and sq ft that US rates are given for.
PER_WEIGHT = 1000


@dataclass(frozen=True)
class Shown:
    """The unit of each kind of figure, and the counts that tie them together.

    ``per_area`` is how many area units a rate is given for, and
    ``small_in_volume`` how many units of a liquid product make one of spray.
    ``substance`` is the unit of an active ingredient per area. ``weight`` and
    ``weight_rate`` are for what is spread dry and for nutrients: area × rate / 1000 is a
    weight. ``dry_rate`` is empty where rates are per ``per_area``.
    """

    length: str
    speed: str
    area: str
    spray: str
    liquid: str
    dry: str
    per_area: int
    small_in_volume: int
    substance: str
    weight: str
    weight_rate: str
    dry_rate: str = ""
    temperature: str = "deg F"

    @property
    def of_granules(self) -> "Shown":
        """The units of a job with a spreader: weights in the unit that a bag has."""
        return replace(self, dry=self.weight, dry_rate=self.weight_rate, per_area=PER_WEIGHT)

    @property
    def spreads(self) -> bool:
        """Whether these are the units of a job with a spreader."""
        return bool(self.dry_rate)

    @property
    def output(self) -> str:
        """The unit of finished spray per area."""
        return f"{self.spray}/{self.per_area} {self.area}"

    def amount_unit(self, rate: Quantity) -> str:
        """Name the unit of a product's amount: what its rate is given for tells the form."""
        weighed = rate.dimension in _WEIGHED
        return self.dry if weighed else self.liquid

    def rate_unit(self, rate: Quantity) -> str:
        """Name the unit a rate is shown in; a percentage and an amount for each plant stay one."""
        if rate.dimension is Dimension.SHARE:
            return "%"
        if rate.dimension is Dimension.MASS_PER_AREA and self.dry_rate:
            return self.dry_rate
        amount = self.amount_unit(rate)
        if rate.dimension in {Dimension.VOLUME, Dimension.MASS}:
            return amount
        if rate.dimension in {Dimension.VOLUME_PER_AREA, Dimension.MASS_PER_AREA}:
            return f"{amount}/{self.per_area} {self.area}"
        return f"{amount}/{self.spray}"

    def rate_of(self, asked: Quantity, rate: float) -> Quantity:
        """Show a rate of the kind that was asked for."""
        return quantity_of_si(rate, self.rate_unit(asked))

    def per_area_unit(self, *, weighed: bool) -> str:
        """Name the unit that an amount of product per area is shown in."""
        if weighed and self.dry_rate:
            return self.dry_rate
        return f"{self.dry if weighed else self.liquid}/{self.per_area} {self.area}"

    def area_of(self, area_m2: float) -> Quantity:
        """Show an area."""
        return quantity_of_si(area_m2, self.area)

    def weight_of(self, kg: float) -> Quantity:
        """Show a weight of granules or of a nutrient."""
        return quantity_of_si(kg, self.weight)

    def weight_rate_of(self, kg_per_m2: float) -> Quantity:
        """Show a rate of granules or of a nutrient."""
        return quantity_of_si(kg_per_m2, self.weight_rate)

    def degrees_of(self, temperature: Quantity) -> str:
        """Say a temperature as it was told, and beside it on the scale that is shown."""
        if temperature.unit == self.temperature:
            return str(temperature)
        return f"{temperature} ({said(temperature.to(self.temperature))})"

    def spray_of(self, volume_l: float) -> Quantity:
        """Show a volume of finished spray or water."""
        return quantity_of_si(volume_l, self.spray)

    def product_of(self, volume_l: float) -> Quantity:
        """Show a small volume: of a liquid product, or of what a nozzle gave."""
        return quantity_of_si(volume_l, self.liquid)

    def output_of(self, output_l_per_m2: float) -> Quantity:
        """Show an output."""
        return quantity_of_si(output_l_per_m2, self.output)


SHOWN = {
    Units.US: Shown(
        length="ft",
        speed="ft/s",
        area="sq ft",
        spray="gal",
        liquid="fl oz",
        dry="oz wt",
        per_area=1000,
        small_in_volume=128,
        weight="lb",
        weight_rate="lb/1000 sq ft",
        substance="lb/acre",
    ),
    Units.METRIC: Shown(
        length="m",
        speed="m/s",
        area="m2",
        spray="L",
        liquid="mL",
        dry="g",
        per_area=100,
        small_in_volume=1000,
        weight="kg",
        weight_rate="g/m2",
        substance="kg/ha",
        temperature="deg C",
    ),
}

#: What an active ingredient on the ground is shown in, as labels limit it.
INGREDIENT_RATES = {Units.US: "lb/acre", Units.METRIC: "kg/ha"}
#: What the time of a job is shown in.
TIME_UNIT = "min"

_MONTHS = (
    *("January", "February", "March", "April", "May", "June", "July"),
    *("August", "September", "October", "November", "December"),
)
SIGNIFICANT_DIGITS = 4
#: So near to the next mark a number is that mark, written in another unit.
_SAME_MARK = 1e-6
#: A sentence with more names than this is no longer read.
MOST_LISTED = 40


def in_unit(quantity: Quantity, unit: str) -> Quantity:
    """Say a quantity in a unit; in its own it stays as it was typed, to the last digit.

    Parameters
    ----------
    quantity : Quantity
        Any quantity. [any unit]
    unit : str
        A unit of its kind. [-]

    Returns
    -------
    Quantity
        The same quantity. [unit]

    Raises
    ------
    Refused
        If the unit is of another kind.

    References
    ----------
    Our own list of units.
    """
    return quantity if quantity.unit == unit else quantity.to(unit)


def said(quantity: Quantity, *, digits: int = SIGNIFICANT_DIGITS) -> str:
    """Write a worked-out quantity for a sentence, to a few significant digits.

    Parameters
    ----------
    quantity : Quantity
        Any finite quantity. [any unit]
    digits : int
        How many digits carry meaning. [-]

    Returns
    -------
    str
        Such as ``1,254 sq ft`` or ``0.926 fl oz``. [unit of the quantity]

    Raises
    ------
    Nothing
        A plan holds finite numbers only.

    References
    ----------
    Common practice. Figures of the plan itself are never rounded this way.
    """
    size = math.floor(math.log10(abs(quantity.value))) if quantity.value else 0
    places = max(0, digits - 1 - size)
    number = f"{quantity.value:,.{places}f}"
    number = number.rstrip("0").rstrip(".") if "." in number else number
    return f"{number} {quantity.unit_said}"


def listed(names: list[str]) -> str:
    """Join names for a sentence: "a, b and c"; of very many, the first.

    Parameters
    ----------
    names : list[str]
        At least one name. [-]

    Returns
    -------
    str
        The names in one line. [-]

    Raises
    ------
    Nothing
        Any names can be joined.

    References
    ----------
    Common practice.
    """
    if len(names) > MOST_LISTED:
        names = [*names[: MOST_LISTED - 1], f"{len(names) - MOST_LISTED + 1:,} more"]
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last


def day_said(day: date) -> str:
    """Write a day so that no two countries read it differently.

    Parameters
    ----------
    day : date
        Any day. [-]

    Returns
    -------
    str
        Such as ``July 8, 2026``. [-]

    Raises
    ------
    Nothing
        Any day can be written.

    References
    ----------
    Common practice: the month in letters.
    """
    return f"{_MONTHS[day.month - 1]} {day.day}, {day.year}"


def said_at_most(quantity: Quantity, *, digits: int = SIGNIFICANT_DIGITS) -> str:
    """Write a limit for a sentence: never rounded up.

    Parameters
    ----------
    quantity : Quantity
        Any finite quantity from zero up. [any unit]
    digits : int
        How many digits carry meaning. [-]

    Returns
    -------
    str
        Such as ``0.977 fl oz/1000 sq ft`` for 0.97726. [unit of the quantity]

    Raises
    ------
    Nothing
        A plan holds finite numbers only.

    References
    ----------
    Our own rule: the safe side.
    """
    if quantity.value <= 0:
        return said(quantity)
    mark = 10.0 ** (math.floor(math.log10(quantity.value)) - digits + 1)
    whole = math.floor(quantity.value / mark + _SAME_MARK)
    return said(Quantity(whole * mark, quantity.unit), digits=digits)
