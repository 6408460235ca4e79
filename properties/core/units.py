"""The one unit registry, and the closed list of units a quantity may be given in.

Text that a person typed never reaches the registry's own parser: it would read
"fl oz" as femtolitre times ounce, "Gal" as galileo and "M" as molar. A typed
unit is looked up in the list below, and only the list speaks to the registry.

Inside the cores a quantity is a plain float in m, m², L, kg, s, m/s, Pa, °C,
°C day or degrees; a rate is L/m², kg/m², L/L or kg/L; a share is a fraction of one.
"""

import math
import re
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import lru_cache

import pint

from properties.core.errors import Refused

# Decimal inside the registry, so that a foot is 0.3048 m to the last bit of the float it becomes.
ureg: pint.UnitRegistry[Decimal] = pint.UnitRegistry(
    non_int_type=Decimal, autoconvert_offset_to_baseunit=False, on_redefinition="ignore"
)
ureg.define("acre = 43560 * foot ** 2")  # the registry's own acre is the survey acre, 4 ppm larger


class Dimension(StrEnum):
    """What kind of thing a quantity measures. Volume and mass are never the same kind."""

    LENGTH = "length"
    AREA = "area"
    VOLUME = "volume"
    MASS = "weight"
    SPEED = "speed"
    ANGLE = "angle"
    SHARE = "share"
    PRESSURE = "pressure"
    TIME = "time"
    TEMPERATURE = "temperature"
    DEGREE_DAYS = "degree days"
    VOLUME_PER_AREA = "volume per area"
    MASS_PER_AREA = "weight per area"
    VOLUME_PER_VOLUME = "volume per volume"
    MASS_PER_VOLUME = "weight per volume"
    FLOW = "volume per time"


PER = {
    (Dimension.VOLUME, Dimension.AREA): Dimension.VOLUME_PER_AREA,
    (Dimension.MASS, Dimension.AREA): Dimension.MASS_PER_AREA,
    (Dimension.VOLUME, Dimension.VOLUME): Dimension.VOLUME_PER_VOLUME,
    (Dimension.MASS, Dimension.VOLUME): Dimension.MASS_PER_VOLUME,
    (Dimension.VOLUME, Dimension.TIME): Dimension.FLOW,
}

#: The unit that the cores calculate in, as the registry knows it.
BASE = {
    Dimension.LENGTH: "meter",
    Dimension.AREA: "meter ** 2",
    Dimension.VOLUME: "liter",
    Dimension.MASS: "kilogram",
    Dimension.SPEED: "meter / second",
    Dimension.ANGLE: "degree",
    Dimension.SHARE: "dimensionless",
    Dimension.PRESSURE: "pascal",
    Dimension.TIME: "second",
    # A step on the scale. Where its zero lies is told by ``ZEROS``.
    Dimension.TEMPERATURE: "delta_degree_Celsius",
    Dimension.DEGREE_DAYS: "delta_degree_Celsius * day",
}


@dataclass(frozen=True)
class Word:
    """A unit of one word: its kind, what the registry calls it, other spellings."""

    dimension: Dimension
    registry_name: str
    spellings: tuple[str, ...] = ()


WORDS = {
    "ft": Word(Dimension.LENGTH, "foot", ("feet", "foot")),
    "in": Word(Dimension.LENGTH, "inch", ("inch", "inches")),
    "yd": Word(Dimension.LENGTH, "yard", ("yard", "yards")),
    "m": Word(Dimension.LENGTH, "meter", ("metre", "metres", "meter", "meters")),
    "cm": Word(Dimension.LENGTH, "centimeter"),
    "mm": Word(Dimension.LENGTH, "millimeter"),
    "km": Word(Dimension.LENGTH, "kilometer"),
    "sq ft": Word(Dimension.AREA, "foot ** 2", ("ft2", "ft²", "sq. ft.", "sqft")),
    "sq yd": Word(Dimension.AREA, "yard ** 2", ("yd2", "yd²")),
    "acre": Word(Dimension.AREA, "acre", ("acres", "ac")),
    "m2": Word(Dimension.AREA, "meter ** 2", ("m²", "sq m")),
    "ha": Word(Dimension.AREA, "hectare", ("hectare", "hectares")),
    "gal": Word(Dimension.VOLUME, "gallon", ("US gal", "gallon", "gallons")),
    "imp gal": Word(Dimension.VOLUME, "imperial_gallon", ("UK gal",)),
    "qt": Word(Dimension.VOLUME, "quart", ("quart", "quarts")),
    "pt": Word(Dimension.VOLUME, "pint", ("pint", "pints")),
    "fl oz": Word(Dimension.VOLUME, "fluid_ounce", ("floz", "fl. oz.", "fl. oz")),
    "L": Word(Dimension.VOLUME, "liter", ("l", "litre", "litres", "liter", "liters")),
    "mL": Word(Dimension.VOLUME, "milliliter", ("ml",)),
    "lb": Word(Dimension.MASS, "pound", ("lbs", "pound", "pounds")),
    "oz wt": Word(Dimension.MASS, "ounce", ("wt oz", "oz wt.")),
    "g": Word(Dimension.MASS, "gram", ("gram", "grams")),
    "kg": Word(Dimension.MASS, "kilogram"),
    "mg": Word(Dimension.MASS, "milligram"),
    "mph": Word(Dimension.SPEED, "mile / hour", ("mi/h",)),
    "km/h": Word(Dimension.SPEED, "kilometer / hour", ("kph", "kmh")),
    "m/s": Word(Dimension.SPEED, "meter / second"),
    "ft/s": Word(Dimension.SPEED, "foot / second"),
    "kn": Word(Dimension.SPEED, "knot", ("knot", "knots")),
    "deg": Word(Dimension.ANGLE, "degree", ("°", "degree", "degrees")),
    "%": Word(Dimension.SHARE, "percent", ("% v/v", "percent")),
    "psi": Word(Dimension.PRESSURE, "psi"),
    "kPa": Word(Dimension.PRESSURE, "kilopascal", ("kpa",)),
    "bar": Word(Dimension.PRESSURE, "bar"),
    "s": Word(Dimension.TIME, "second", ("sec", "second", "seconds")),
    "min": Word(Dimension.TIME, "minute", ("minute", "minutes")),
    "h": Word(Dimension.TIME, "hour", ("hour", "hours")),
    "day": Word(Dimension.TIME, "day", ("days",)),
    "deg F": Word(Dimension.TEMPERATURE, "delta_degree_Fahrenheit", ("°F", "degF", "deg. F")),
    "deg C": Word(Dimension.TEMPERATURE, "delta_degree_Celsius", ("°C", "degC", "deg. C")),
    "deg F day": Word(
        Dimension.DEGREE_DAYS, "delta_degree_Fahrenheit * day", ("°F day", "deg F days")
    ),
    "deg C day": Word(
        Dimension.DEGREE_DAYS, "delta_degree_Celsius * day", ("°C day", "deg C days")
    ),
}

#: What a scale shows where the cores' scale shows zero; every other unit shows zero there too.
ZEROS = {"deg F": 32.0}

#: How a person writes a unit that our list spells in plain letters.
SAID = {"deg F": "°F", "deg C": "°C"}

_CANONICAL = {name: name for name in WORDS} | {
    spelling: name for name, word in WORDS.items() for spelling in word.spellings
}
# Case carries meaning in a short name (M is 1,000 sq ft to the trade, m a metre).
_CANONICAL_ANY_CASE = {
    spelling.casefold(): name for spelling, name in _CANONICAL.items() if len(spelling) > 2
}
_NUMBER = re.compile(
    r"([+-]?(?:\d{1,3}(?:,\d{3})+|\d+|(?=\.\d))(?:\.\d+)?(?:[eE][+-]?\d+)?)(.*)", re.DOTALL
)
_LONGEST_TEXT = 60
_TOO_LONG_TO_SHOW = 1e15


@dataclass(frozen=True)
class Quantity:
    """A number with a unit of the closed list, as a person would say it.

    ``value`` is in ``unit``; ``si`` is the same quantity in the unit that the
    cores calculate in.
    """

    value: float
    unit: str

    @property
    def dimension(self) -> Dimension:
        """What kind of thing is measured."""
        return dimension_of(self.unit)

    @property
    def si(self) -> float:
        """The quantity in the unit of its kind that the cores calculate in."""
        return (self.value - ZEROS.get(self.unit, 0.0)) * factor_to_si(self.unit)

    @property
    def unit_said(self) -> str:
        """The unit as it stands in a sentence: °F, not deg F."""
        return SAID.get(self.unit, self.unit)

    def to(self, unit: str) -> "Quantity":
        """Say the same quantity in another unit of its kind."""
        if unit == self.unit:
            return self
        if dimension_of(unit) is not self.dimension:
            raise Refused(
                "unit",
                f"{self.unit} is a {self.dimension} and {unit} is a {dimension_of(unit)}.",
                "They cannot be converted into each other.",
            )
        return quantity_of_si(self.si, unit)

    @property
    def to_the_last_digit(self) -> str:
        """The quantity as text that reads back to the very same one."""
        return f"{repr(self.value).removesuffix('.0')} {self.unit}"

    def __str__(self) -> str:
        return f"{self.value:.10g} {self.unit_said}"


def quantity_of_si(si: float, unit: str) -> Quantity:
    """Say a number of the cores in a unit of the closed list.

    Parameters
    ----------
    si : float
        The number, in the unit the cores use for this kind. [m, m², L, kg, ...]
    unit : str
        A unit of the closed list, in its canonical spelling. [-]

    Returns
    -------
    Quantity
        The same quantity. [unit]

    Raises
    ------
    Refused
        If the unit is not of the list.

    References
    ----------
    NIST Handbook 44, Appendix C, through the registry's factors.
    """
    return Quantity(si / factor_to_si(unit) + ZEROS.get(unit, 0.0), unit)


@lru_cache(maxsize=1024)
def factor_to_si(unit: str) -> float:
    """How many of the cores' unit make one of this unit; of a temperature, one step of its scale.

    Parameters
    ----------
    unit : str
        A unit of the closed list. [-]

    Returns
    -------
    float
        The factor. [cores' unit per unit]

    Raises
    ------
    Refused
        If the unit is not of the list.

    References
    ----------
    NIST Handbook 44, Appendix C, through the registry's factors.
    """
    above, count, below = _parts(unit)
    factor = _word_factor(above)
    return factor if below is None else factor / (count * _word_factor(below))


@lru_cache(maxsize=1024)
def dimension_of(unit: str) -> Dimension:
    """What kind of thing a unit measures.

    Parameters
    ----------
    unit : str
        A unit of the closed list. [-]

    Returns
    -------
    Dimension
        The kind. [-]

    Raises
    ------
    Refused
        If the unit is not of the list.

    References
    ----------
    Our own list.
    """
    above, _, below = _parts(unit)
    kind = WORDS[above].dimension
    return kind if below is None else PER[kind, WORDS[below].dimension]


@lru_cache(maxsize=1024)
def canonical_unit(text: str) -> str:
    """Spell a unit the way this project does: "ounces per 1,000 ft²" has one name.

    Parameters
    ----------
    text : str
        A unit as it was typed. [-]

    Returns
    -------
    str
        Its canonical spelling, such as ``fl oz/1000 sq ft``. [-]

    Raises
    ------
    Refused
        If the unit is not of the closed list.

    References
    ----------
    Our own list.
    """
    above, count, below = _parts(text)
    if below is None:
        return above
    return f"{above}/{below}" if count == 1 else f"{above}/{count:.10g} {below}"


def parse_quantity(text: object, *kinds: Dimension, field: str = "quantity") -> Quantity:
    """Read "0.80 fl oz/1000 sq ft": a number and a unit of the closed list.

    Parameters
    ----------
    text : object
        What was typed; anything but a string is refused. [-]
    kinds : Dimension
        The kinds of quantity that would do here. [-]
    field : str
        What to call the input in a refusal. [-]

    Returns
    -------
    Quantity
        The number in the unit it was given in. [unit as typed]

    Raises
    ------
    Refused
        If there is no number, no unit, an unknown unit or a unit of another kind.

    References
    ----------
    Our own list.
    """
    example = f"Write a number and a unit, for example {_example(kinds)}."
    if isinstance(text, int | float) and not isinstance(text, bool):
        shown = str(text) if abs(text) < _TOO_LONG_TO_SHOW else "This number"
        raise Refused(field, f"{shown} has no unit.", example)
    if not isinstance(text, str) or not text.strip():
        raise Refused(field, "A quantity is missing here.", example)
    if not "".join(text.split()).isprintable():
        raise Refused(field, "This quantity holds characters that cannot be shown.", example)
    number, unit = _split(text.strip()[:_LONGEST_TEXT], field, example)
    if not unit:
        raise Refused(field, f"{text.strip()[:_LONGEST_TEXT]} has no unit.", example)
    try:
        quantity = Quantity(number, canonical_unit(unit))
    except Refused as refused:
        raise Refused(field, refused.problem, refused.remedy or example) from None
    if kinds and quantity.dimension not in kinds:
        wanted = " or ".join(dict.fromkeys(kinds))
        raise Refused(field, f"{quantity.unit} is a {quantity.dimension}, not a {wanted}.", example)
    return quantity


def _split(text: str, field: str, example: str) -> tuple[float, str]:
    found = _NUMBER.fullmatch(text)
    if found is None:
        raise Refused(field, f"“{text}” does not begin with a number.", example)
    digits, rest = found.groups()
    if rest.startswith(","):
        raise Refused(
            field,
            f"“{text}” has a comma where a decimal point belongs.",
            "Write 0.72, and 1,000 or 1000 for a thousand.",
        )
    number = float(digits.replace(",", ""))
    if not math.isfinite(number):
        raise Refused(field, f"“{text}” is too large a number.", example)
    return number, rest.strip()


def _parts(text: str) -> tuple[str, float, str | None]:
    """Take a unit apart: the word above, how many of the word below, the word below."""
    whole = _word(text)
    if whole is not None:
        return whole, 1.0, None
    above_text, slash, below_text = text.partition("/")
    above = _word(above_text)
    if not slash or above is None:
        raise _unknown(text)
    found = _NUMBER.fullmatch(below_text.strip())
    count = 1.0 if found is None else float(found[1].replace(",", ""))
    below = _word(below_text if found is None else found[2])
    if below is None or (WORDS[above].dimension, WORDS[below].dimension) not in PER:
        raise _unknown(text)
    if not (math.isfinite(count) and count > 0):
        raise Refused(
            "unit", f"“{text.strip()}” divides by {count:g}.", "Write how many are meant."
        )
    return above, count, below


def _word(text: str) -> str | None:
    spelled = " ".join(text.split())
    return _CANONICAL.get(spelled) or _CANONICAL_ANY_CASE.get(spelled.casefold())


def _unknown(text: str) -> Refused:
    if re.match(r"\s*(oz|ounces?)\b(?!\s*wt)", text, re.IGNORECASE):
        return Refused(
            "unit",
            f"“{text.strip()}” can be a weight or a volume.",
            "Write fl oz for a liquid and oz wt for something weighed.",
        )
    return Refused("unit", f"“{text.strip()}” is not a unit on our list.")


def _word_factor(word: str) -> float:
    named = WORDS[word]
    return float(ureg.Quantity(Decimal(1), named.registry_name).m_as(BASE[named.dimension]))


_EXAMPLES = {
    Dimension.LENGTH: "25 ft",
    Dimension.AREA: "5000 sq ft",
    Dimension.VOLUME: "0.72 gal",
    Dimension.MASS: "1.5 oz wt",
    Dimension.SPEED: "6 mph",
    Dimension.ANGLE: "270 deg",
    Dimension.SHARE: "0.25 %",
    Dimension.PRESSURE: "28 psi",
    Dimension.TIME: "78 s",
    Dimension.TEMPERATURE: "72 deg F",
    Dimension.DEGREE_DAYS: "250 deg F day",
    Dimension.VOLUME_PER_AREA: "0.80 fl oz/1000 sq ft",
    Dimension.MASS_PER_AREA: "0.15 oz wt/1000 sq ft",
    Dimension.VOLUME_PER_VOLUME: "2 fl oz/5 gal",
    Dimension.MASS_PER_VOLUME: "1 lb/100 gal",
    Dimension.FLOW: "0.20 gal/min",
}


def _example(kinds: tuple[Dimension, ...]) -> str:
    return _EXAMPLES[kinds[0]] if kinds else _EXAMPLES[Dimension.VOLUME_PER_AREA]
