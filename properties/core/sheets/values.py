"""One cell of a list as a text, an address for letters, an area or degrees; or why not."""

import re

from properties.core.errors import Refused
from properties.core.sheets.area_units import area_in
from properties.core.sheets.cells import Cell, cell_text
from properties.core.sheets.columns import Columns, Fact
from properties.core.sheets.numbers import number_and_rest
from properties.core.units import Dimension, Quantity, canonical_unit, dimension_of

#: Beyond these only a slip of the unit makes an area of turf. [m²]
SMALLEST_AREA_M2, LARGEST_AREA_M2 = 1.0, 4_000_000.0
FARTHEST = {Fact.LATITUDE: 85.0, Fact.LONGITUDE: 180.0}
_LABEL = r"[A-Za-z0-9](?:[A-Za-z0-9-]{0,61}[A-Za-z0-9])?"
_EMAIL = re.compile(
    rf"[A-Za-z0-9_+-]+(?:\.[A-Za-z0-9_+-]+)*@(?:{_LABEL}\.)+[A-Za-z]{{2,63}}",
)


def plain_text(cell: Cell, longest: int) -> str:
    """Read a text that can be kept and shown.

    Parameters
    ----------
    cell : Cell
        What stands in the list. [-]
    longest : int
        How many signs are kept at most. [signs]

    Returns
    -------
    str
        The text. [-]

    Raises
    ------
    Refused
        If it is too long, a formula, or cannot be shown.

    References
    ----------
    Our own rule: a formula is never worked out, and never kept where another program might.
    """
    text = cell_text(cell)
    if not text.isprintable():
        raise Refused("text", "This holds characters that cannot be shown.", "Write it again.")
    if text.startswith("="):
        raise Refused(
            "text",
            "This is a formula, and formulas are not worked out here.",
            "Copy the column in your spreadsheet and paste it as values.",
        )
    if len(text) > longest:
        raise Refused("text", f"This has {len(text)} signs.", f"At most {longest} are kept.")
    return text


def email_address(cell: Cell) -> str:
    """Read one email address.

    Parameters
    ----------
    cell : Cell
        What stands in the list. [-]

    Returns
    -------
    str
        The address. [-]

    Raises
    ------
    Refused
        If it is not one address, such as two of them in one cell.

    References
    ----------
    RFC 5321, section 4.1.2, the part of it that is in common use.
    """
    text = cell_text(cell)
    if not _EMAIL.fullmatch(text):
        raise Refused("email", "This is not one email address.", "Write one, or leave it empty.")
    return text


def stated_area(cell: Cell, columns: Columns) -> Quantity:
    """Read an area; a unit that the cell itself names is stronger than the column's.

    Parameters
    ----------
    cell : Cell
        What stands in the list. [unit of the column]
    columns : Columns
        The confirmed unit and the way of writing decimals. [-]

    Returns
    -------
    Quantity
        The area, above zero. [unit as stated]

    Raises
    ------
    Refused
        If it is no number, no area, or no size that turf has.

    References
    ----------
    Our own rule.
    """
    value, unit = number_and_rest(cell, columns.decimals)
    area = _with_own_unit(value, unit) if unit else area_in(value, columns.area_unit)
    if not value > 0:
        raise Refused("area", "This is not an area.", "Leave it empty where it is not known.")
    if not SMALLEST_AREA_M2 <= area.si <= LARGEST_AREA_M2:
        raise Refused(
            "area",
            f"{area} is not the turf of a property.",
            "Look whether the number and the unit belong together.",
        )
    return area


def degrees(cell: Cell, fact: Fact, columns: Columns) -> float:
    """Read a latitude or a longitude.

    Parameters
    ----------
    cell : Cell
        What stands in the list. [degree]
    fact : Fact
        Which of the two. [-]
    columns : Columns
        The confirmed way of writing decimals. [-]

    Returns
    -------
    float
        The angle. [degree]

    Raises
    ------
    Refused
        If it is no number, or beyond the map.

    References
    ----------
    Our own rule: the map ends at 85 degrees of latitude.
    """
    value, rest = number_and_rest(cell, columns.decimals)
    if rest not in {"", "°"} or not abs(value) <= FARTHEST[fact]:
        raise Refused(
            str(fact),
            f"This is not a {fact} in degrees.",
            f"It lies between -{FARTHEST[fact]:g} and {FARTHEST[fact]:g}; south and west are "
            "negative.",
        )
    return value


def _with_own_unit(value: float, text: str) -> Quantity:
    try:
        unit = canonical_unit(text)
    except Refused as refused:
        raise Refused(
            "area", refused.problem, "Write the number alone, in its column's unit."
        ) from None
    if dimension_of(unit) is not Dimension.AREA:
        raise Refused(
            "area",
            f"{unit} is not a unit of area.",
            "Write the number alone, in its column's unit.",
        )
    return Quantity(value, unit)
