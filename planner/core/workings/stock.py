"""How a balance of the stock came about."""

from planner.core.labels import Form
from planner.core.shown import Units
from planner.core.stock.containers import amount_in
from planner.core.stock.ledger import Balance, Kind
from planner.core.workings.terms import summed
from properties.core.units import quantity_of_si
from properties.core.working import Figure, Input

#: What is said of each kind in a sum, all with their sign.
NAMES = {
    Kind.BOUGHT: "bought",
    Kind.MOVED: "moved",
    Kind.LOADED: "loaded",
    Kind.RETURNED: "returned",
    Kind.COUNTED: "counted_differences",
    Kind.DISPOSED: "disposed",
    Kind.CORRECTED: "corrected",
}
SOURCE = (
    "The ledger, which is only ever added to. What went out stands with a minus; a count adds "
    "the difference it found."
)


def balance_figure(balance: Balance, *, name: str, form: Form, units: Units) -> Figure:
    """Derive a balance from what came in and went out.

    Parameters
    ----------
    balance : Balance
        The balance of a shelf, or of several together. [L or kg]
    name : str
        What is balanced. [-]
    form : Form
        How the product is measured out. [-]
    units : Units
        The units to show. [-]

    Returns
    -------
    Figure
        The derivation. [unit shown]

    Raises
    ------
    Nothing
        Every balance has a derivation.

    References
    ----------
    Common practice of a ledger.
    """
    result = amount_in(balance.amount, form=form, units=units)
    inputs = tuple(
        Input(NAMES[kind], quantity_of_si(amount, result.unit))
        for kind, amount in balance.by_kind.items()
    )
    return Figure("stock", name, summed(inputs), inputs, result, SOURCE)
