"""How each figure of a plan came about, to be reconstructed by hand.

Inputs are given in the units that the plan is shown in, and a formula holds for
exactly those: its 128, 1000 or 100 are the fluid ounces in a US gallon, the
millilitres in a litre, or the square feet or metres that rates are given for.
"""

from planner.core.amounts.planned import Planned
from planner.core.checks.cross_use import cross_uses
from planner.core.ground.accounting import account_of
from planner.core.workings.accounting import accounting_figures
from planner.core.workings.areas import area_figures
from planner.core.workings.distances import distance_figures
from planner.core.workings.ingredients import ingredient_figures
from planner.core.workings.keep_off import keep_off_figures
from planner.core.workings.limits import limit_figures
from planner.core.workings.mixed import cross_figures, surplus_figures
from planner.core.workings.mixing import mixing_figures
from planner.core.workings.parts import part_figures, whole_figures
from planner.core.workings.uncertainty import uncertainty_figures
from properties.core.working import Figure

__all__ = ["surplus_figures", "uncertainty_figures", "workings_of"]


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
    ground, shown = planned.ground, planned.shown
    return (
        *area_figures(ground, shown=shown),
        *distance_figures(ground.kept_from, key="no_spray", shown=shown),
        *whole_figures(planned),
        *part_figures(planned),
        *cross_figures(cross_uses(planned.parts), shown=shown),
        *accounting_figures(account_of(ground), shown=shown),
        *keep_off_figures(planned.request.products),
        *limit_figures(planned, shown=shown),
        *mixing_figures(planned),
        *ingredient_figures(planned.totals, units=planned.request.units, shown=shown),
    )
