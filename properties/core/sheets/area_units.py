"""The units an area may stand in in a list, and which one a column seems to use."""

import math
import re
import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from properties.core.units import Quantity

#: By the word that is kept: the unit of the closed list, how many of it, what a person reads.
AREA_UNITS = {
    "sq ft": ("sq ft", 1, "square feet"),
    "1000 sq ft": ("sq ft", 1000, "1,000 square feet"),
    "acre": ("acre", 1, "acres"),
    "sq yd": ("sq yd", 1, "square yards"),
    "m2": ("m2", 1, "square metres"),
    "100 m2": ("m2", 100, "100 square metres"),
    "ha": ("ha", 1, "hectares"),
}
_SPOKEN = (
    ("1000 sq ft", r"\bk ?(sq ?ft|sf|ft2|ft²)\b|\b1[,. ]?000 ?(sq|sf|ft)|\bthousand|\bmsf\b"),
    ("100 m2", r"\b100 ?(m2|m²|sq ?m)\b|\bares?\b"),
    ("sq yd", r"\bsq\.? ?y|\byd2\b|yd²|\bsquare yards?\b"),
    ("sq ft", r"\bsq\.? ?f|\bsf\b|\bft2\b|ft²|\bsquare (feet|foot)\b"),
    ("acre", r"\bacres?\b|\bac\b|\bacreage\b"),
    ("ha", r"\bha\b|\bhectares?\b"),
    ("m2", r"\bm2\b|m²|\bsq\.? ?m\b|\bsqm\b|\bsquare met(er|re)s?\b|\bmetros cuadrados\b"),
)
#: Where most lawns lie, to tell units apart by size. [m²]
_USUAL_LAWN_M2 = 700.0
_LIKELY = {"us": ("sq ft", "1000 sq ft", "acre"), "metric": ("m2", "100 m2", "ha")}


@dataclass(frozen=True)
class UnitGuess:
    """The unit a column seems to use, and why we think so."""

    unit: str
    why: str


def area_in(value: float, unit: str) -> Quantity:
    """Say a number of a list as a quantity of the closed list of units.

    Parameters
    ----------
    value : float
        The number as it stands in the list. [unit]
    unit : str
        A word of ``AREA_UNITS``. [-]

    Returns
    -------
    Quantity
        The area. [sq ft, acre, sq yd, m² or ha]

    Raises
    ------
    KeyError
        If the word is not of the list; forms offer no other.

    References
    ----------
    Our own list; factors as in ``properties.core.units``.
    """
    named, count, _ = AREA_UNITS[unit]
    return Quantity(value * count, named)


def guessed_unit(heading: str, values: Sequence[float], *, units: str) -> UnitGuess | None:
    """Guess the unit of a column of areas. A person confirms it, or chooses another.

    Parameters
    ----------
    heading : str
        The heading of the column. [-]
    values : sequence of float
        Its numbers, those above zero. [unknown unit]
    units : str
        The units the firm thinks in, ``us`` or ``metric``. [-]

    Returns
    -------
    UnitGuess or None
        The guess and why; none without a word or a number to go by. [-]

    Raises
    ------
    Nothing
        No guess is an answer too.

    References
    ----------
    Our own rule: the heading's word; else the unit that makes the middle value a usual lawn.
    """
    for unit, spoken in _SPOKEN:
        found = re.search(spoken, heading, re.IGNORECASE)
        if found:
            return UnitGuess(unit, f"the heading says “{found[0].strip()}”")
    usable = [value for value in values if math.isfinite(value) and value > 0]
    if not usable:
        return None
    middle = statistics.median(usable)
    unit = min(_LIKELY[units], key=lambda word: _away_from_a_lawn(middle, word))
    return UnitGuess(unit, f"a middle value of {middle:,.10g} would then be a usual lawn")


def _away_from_a_lawn(value: float, unit: str) -> float:
    return abs(math.log(area_in(value, unit).si / _USUAL_LAWN_M2))
