"""How each figure of a plan came about, to be reconstructed by hand.

Inputs are given in the units that the plan is shown in, and a formula holds for
exactly those: its 128, 1000 or 100 are the fluid ounces in a US gallon, the
millilitres in a litre, or the square feet or metres that rates are given for.
"""

from planner.core.planned import Planned
from planner.core.workings.areas import area_figures
from planner.core.workings.distances import distance_figures
from planner.core.workings.loads import load_figures
from planner.core.workings.output import output_figures
from planner.core.workings.products import product_figures
from properties.core.working import Figure


def workings_of(planned: Planned) -> tuple[Figure, ...]:
    """Derive every figure of a plan.

    Parameters
    ----------
    planned : Planned
        The figures. [-]

    Returns
    -------
    tuple[Figure, ...]
        The derivation of each, in the order of the plan. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    return (
        *area_figures(planned.ground, shown=planned.shown),
        *distance_figures(planned.ground.kept_from, key="no_spray", shown=planned.shown),
        *output_figures(planned),
        *product_figures(planned),
        *load_figures(planned),
    )
