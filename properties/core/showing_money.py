"""How an amount of money is written on a page: the sign of its currency, two places or more."""

from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType

#: The sign of each currency that a firm may count in.
SIGNS: Mapping[str, str] = MappingProxyType(
    {"USD": "$", "CAD": "$", "AUD": "$", "NZD": "$", "MXN": "$", "EUR": "€", "GBP": "£"}
)


def shown_money(amount: Decimal, currency: str) -> str:
    """Write an amount.

    Parameters
    ----------
    amount : Decimal
        The amount. [currency]
    currency : str
        Its three letters. [-]

    Returns
    -------
    str
        The amount with its sign: two places, and more where it has them. [-]

    Raises
    ------
    Nothing
        Any amount can be written.

    References
    ----------
    Our own rule: a dash before what is below zero, commas between thousands.
    """
    digits = f"{amount.normalize():f}".partition(".")[2]
    places = max(2, len(digits))
    return f"{'−' if amount < 0 else ''}{SIGNS[currency]}{abs(amount):,.{places}f}"
