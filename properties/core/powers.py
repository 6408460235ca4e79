"""Who may do what: three roles, and the powers each has."""

from enum import StrEnum


class Role(StrEnum):
    """What a person is in their firm."""

    OWNER = "owner"
    OFFICE = "office"
    CREW = "crew"


class Power(StrEnum):
    """Something that not everybody may do. Everybody may look and plan."""

    DRAW = "draw"
    CALIBRATE = "calibrate"
    KEEP_MACHINES = "keep_machines"
    KEEP_LABELS = "keep_labels"
    KEEP_RULES = "keep_rules"
    KEEP_PRICES = "keep_prices"
    SELL = "sell"
    SEE_MARGINS = "see_margins"
    STRIKE_OUT = "strike_out"
    KEEP_STOCK = "keep_stock"
    KEEP_PROGRAMMES = "keep_programmes"
    RUN_FIRM = "run_firm"


POWERS = {
    Role.OWNER: frozenset(Power),
    Role.OFFICE: frozenset(Power) - {Power.RUN_FIRM, Power.SEE_MARGINS},
    Role.CREW: frozenset({Power.CALIBRATE}),
}


def powers_of(role: str) -> frozenset[Power]:
    """Name the powers of a role.

    Parameters
    ----------
    role : str
        ``owner``, ``office`` or ``crew``; any other text has no power. [-]

    Returns
    -------
    frozenset[Power]
        What such a person may do. [-]

    Raises
    ------
    Nothing
        An unknown role has no power.

    References
    ----------
    Our own rule: the crew changes what they measure, the office what is planned with.
    """
    return POWERS[Role(role)] if role in set(Role) else frozenset()
