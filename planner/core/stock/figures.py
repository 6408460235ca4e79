"""How a balance of the stock came about."""

from planner.core.label.labels import Form
from planner.core.shown import Units
from planner.core.stock.buying import Line
from planner.core.stock.containers import amount_in
from planner.core.stock.ledger import Balance, Kind
from planner.core.stock.needs import Total
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


NEED_SOURCE = (
    "JCGM 100:2008, 5.1.2 and 5.2.2, note 1: errors that do not depend on one another add by "
    "their squares; one that several jobs share was added straight. Each part is its standard "
    "deviation times t of 95 %, with the degrees of freedom of Welch and Satterthwaite (G.4.1)."
)


def need_figure(total: Total, *, form: Form, units: Units) -> Figure:
    """Derive the upper end of what jobs need.

    Parameters
    ----------
    total : Total
        What the jobs need together. [L or kg]
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
        Every need has a derivation.

    References
    ----------
    See ``total_of``.
    """
    result = amount_in(total.highest, form=form, units=units)
    joined = total.joined
    inputs = [Input("planned", quantity_of_si(total.amount, result.unit))]
    formula = "planned"
    if joined.deviation:
        parts = [("off_by_ground", joined.by_areas)] if joined.by_areas else []
        parts += [
            (f"off_by_calibration_{number}", error.share)
            for number, error in enumerate(joined.by_outputs, start=1)
        ]
        inputs += [
            Input(name, quantity_of_si(joined.t * part, result.unit)) for name, part in parts
        ]
        squares = " + ".join(f"{name}²" for name, _ in parts)
        formula = f"planned + sqrt({squares})"
    return Figure("need", "Upper end of the need", formula, tuple(inputs), result, NEED_SOURCE)


SHORT_SOURCE = (
    "Our own rule: what the upper end of the need grows by is drawn from the stock, the first to "
    "expire first and nothing that has expired, then from what is left of earlier purchases."
)


def short_figure(line: Line, *, form: Form, units: Units) -> Figure:
    """Derive what a period is short of.

    Parameters
    ----------
    line : Line
        A period of a buying list. [L or kg]
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
        Every period has a derivation.

    References
    ----------
    See ``buying_list``.
    """
    result = amount_in(line.short, form=form, units=units)
    told = (
        ("upper_end_grows_by", line.more),
        ("from_stock", line.from_stock),
        ("from_bought_before", line.from_bought),
    )
    inputs = tuple(Input(name, quantity_of_si(amount, result.unit)) for name, amount in told)
    formula = "upper_end_grows_by − from_stock − from_bought_before"
    return Figure("short", "Short of", formula, inputs, result, SHORT_SOURCE)
