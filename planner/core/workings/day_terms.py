"""The formulas that the workings of a route share, in the units that are shown."""

from collections.abc import Iterable

from planner.core.mix.products import Product
from planner.core.shown import Shown
from properties.core.units import Dimension, Quantity, quantity_of_si
from properties.core.working import COMMON_PRACTICE, Figure, Input

Named = tuple[str, Quantity]

TOLD_SOURCE = "As told; nothing was worked out."
MADE_UP_SOURCE = (
    "Our own derivation: added product = all the spray × new concentration − what is there; "
    "what cannot be sprayed holds product at the same concentration."
)
CONCENTRATION_SOURCE = (
    "University of Georgia, Waltz and Murphy, Calibrate sprayer: rate = product in the spray × "
    "output."
)


def told(key: str, name: str, quantity: Quantity) -> Figure:
    """Show a quantity that somebody told.

    Parameters
    ----------
    key : str
        Where it stands. [-]
    name : str
        What it is. [-]
    quantity : Quantity
        What was told. [any unit]

    Returns
    -------
    Figure
        The figure, which is its own working. [unit of the quantity]

    Raises
    ------
    Nothing
        Anything can be told.

    References
    ----------
    Our own notation.
    """
    return Figure(key, name, "as told", (Input("as told", quantity),), quantity, TOLD_SOURCE)


def worked(
    key: str,
    name: str,
    formula: str,
    inputs: Iterable[Named],
    result: Quantity,
    source: str = COMMON_PRACTICE,
) -> Figure:
    """Show how a figure follows from its inputs.

    Parameters
    ----------
    key : str
        Where it stands. [-]
    name : str
        What it is. [-]
    formula : str
        In the names of the inputs. [-]
    inputs : Iterable of tuple
        Each name with its quantity. [any unit]
    result : Quantity
        What comes out. [unit shown]
    source : str
        Where the formula is from. [-]

    Returns
    -------
    Figure
        The figure. [unit shown]

    Raises
    ------
    Nothing
        Any formula can be shown.

    References
    ----------
    Our own notation.
    """
    given = tuple(Input(short, quantity) for short, quantity in inputs)
    return Figure(key, name, formula, given, result, source)


def amount_of(product: Product, amount: float, shown: Shown) -> Quantity:
    """Show an amount of a product.

    Parameters
    ----------
    product : Product
        The product. [-]
    amount : float
        How much. [L or kg]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Quantity
        The amount. [unit shown]

    Raises
    ------
    Nothing
        Any amount can be shown.

    References
    ----------
    Our own list of units.
    """
    return quantity_of_si(amount, shown.amount_unit(product.rate))


def wanted_formula(product: Product, spray: str, shown: Shown) -> str:
    """Write how much of a product some spray should hold.

    Parameters
    ----------
    product : Product
        The product. [-]
    spray : str
        What the spray is called. [-]
    shown : Shown
        The units of the inputs. [-]

    Returns
    -------
    str
        The formula, in ``rate`` and perhaps ``output``. [unit shown]

    Raises
    ------
    Nothing
        Every kind of rate has a formula.

    References
    ----------
    See ``concentration``.
    """
    if product.by_area:
        return f"{spray} / output × rate"
    if product.rate.dimension is Dimension.SHARE:
        return f"{shown.small_in_volume} × {spray} × rate / 100"
    return f"{spray} × rate"


def rate_given(product: Product, amount: str, spray: str, shown: Shown) -> str:
    """Write the rate that some product in some spray gives.

    Parameters
    ----------
    product : Product
        The product. [-]
    amount : str
        What the product is called. [-]
    spray : str
        What the spray is called. [-]
    shown : Shown
        The units of the inputs. [-]

    Returns
    -------
    str
        The formula, perhaps in ``output``. [unit shown]

    Raises
    ------
    Nothing
        Every kind of rate has a formula.

    References
    ----------
    The inverse of ``wanted_formula``.
    """
    if product.by_area:
        return f"{amount} / {spray} × output"
    if product.rate.dimension is Dimension.SHARE:
        return f"100 × {amount} / ({shown.small_in_volume} × {spray})"
    return f"{amount} / {spray}"


def with_output(product: Product, inputs: Iterable[Named], output: Quantity) -> tuple[Named, ...]:
    """Add the output to the inputs of a formula, where the product follows the ground.

    Parameters
    ----------
    product : Product
        The product. [-]
    inputs : Iterable of tuple
        The other inputs. [any unit]
    output : Quantity
        The output. [unit shown]

    Returns
    -------
    tuple of tuple
        All of them. [any unit]

    Raises
    ------
    Nothing
        Any inputs will do.

    References
    ----------
    Our own notation.
    """
    return (*inputs, ("output", output)) if product.by_area else tuple(inputs)
