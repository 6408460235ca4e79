"""What was measured, as exact decimals in the units of a price book: to how many places.

Areas, lengths and times keep two places of the book's unit (a hundredth of a sq ft, of a ft,
of a minute), amounts of product six places of the container's unit.
"""

from decimal import Decimal

from planner.core.money import decimal_of
from planner.core.pricing.book import Book
from planner.core.pricing.figures import Told
from properties.core.units import Quantity, quantity_of_si

AREA_PLACES = LENGTH_PLACES = TIME_PLACES = 2
AMOUNT_PLACES = 6


def area_told(name: str, area_m2: float, book: Book) -> Told:
    """Say an area in the unit of a book.

    Parameters
    ----------
    name : str
        What it is called in the formula. [-]
    area_m2 : float
        The area. [m²]
    book : Book
        Whose unit it is said in. [-]

    Returns
    -------
    Told
        The area to two places. [unit of the book]

    Raises
    ------
    Nothing
        Any area can be said.

    References
    ----------
    Our own rule: see the head of this module.
    """
    value = quantity_of_si(area_m2, book.area_unit).value
    return Told(name, decimal_of(value, places=AREA_PLACES), book.area_unit)


def length_told(name: str, length_m: float, book: Book) -> Told:
    """Say a length in the unit of a book.

    Parameters
    ----------
    name : str
        What it is called in the formula. [-]
    length_m : float
        The length. [m]
    book : Book
        Whose unit it is said in. [-]

    Returns
    -------
    Told
        The length to two places. [unit of the book]

    Raises
    ------
    Nothing
        Any length can be said.

    References
    ----------
    Our own rule: see the head of this module.
    """
    value = quantity_of_si(length_m, book.length_unit).value
    return Told(name, decimal_of(value, places=LENGTH_PLACES), book.length_unit)


def minutes_told(name: str, time_s: float) -> Told:
    """Say a time in minutes.

    Parameters
    ----------
    name : str
        What it is called in the formula. [-]
    time_s : float
        The time. [s]

    Returns
    -------
    Told
        The time to two places. [min]

    Raises
    ------
    Nothing
        Any time can be said.

    References
    ----------
    Our own rule: see the head of this module.
    """
    value = quantity_of_si(time_s, "min").value
    return Told(name, decimal_of(value, places=TIME_PLACES), "min")


def amount_told(name: str, amount: Quantity, unit: str) -> Told:
    """Say an amount of product in the unit of its container.

    Parameters
    ----------
    name : str
        What it is called in the formula. [-]
    amount : Quantity
        The amount. [any unit]
    unit : str
        The unit of the container. [-]

    Returns
    -------
    Told
        The amount to six places. [unit]

    Raises
    ------
    Refused
        If one is a volume and the other a weight.

    References
    ----------
    Our own rule: see the head of this module.
    """
    return Told(name, decimal_of(amount.to(unit).value, places=AMOUNT_PLACES), unit)


def exact(value: float) -> Decimal:
    """Say the number of a container's size, which somebody typed, as it was typed.

    Parameters
    ----------
    value : float
        The number. [any unit]

    Returns
    -------
    Decimal
        The shortest decimal that reads back to the same number. [as the number]

    Raises
    ------
    Nothing
        Any number that was typed can be said.

    References
    ----------
    Our own rule: 2.5 gal is two and a half, to the last digit.
    """
    return Decimal(repr(value))
