"""From a plan to what a job needs: the stock asks the one door, and works nothing out again."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from planner.core.amounts.output_band import OutputBand, output_band
from planner.core.calibration.spread import StandardError
from planner.core.plan import Plan
from planner.core.stock.needs import Need
from planner.core.tools import Tool


@dataclass(frozen=True)
class Shared:
    """What several jobs have in common: the ground, and the calibration of each tool."""

    ground: str
    calibrations: Mapping[Tool, str]


def needs_of(plan: Plan, *, on: date, shared: Shared) -> dict[str, Need]:
    """Take what each product of a plan needs, with what may be off.

    What is mixed is needed, so amounts have what stays in the tanks, and their errors grow
    with them. Whatever the outlines of one ground have off moves all its products and all its
    rounds the same way, so they are one error.

    Parameters
    ----------
    plan : Plan
        The plan of one job. [-]
    on : date
        The day it has to be there. [-]
    shared : Shared
        What other jobs have in common with it. [-]

    Returns
    -------
    dict of str to Need
        The need by the name of each product. [L or kg]

    Raises
    ------
    Nothing
        What nobody can tell is said in ``has_range``.

    References
    ----------
    See ``total_of``.
    """
    told = plan.error_bar.uncertainty
    band = output_band(plan.parts)
    needs = {}
    for position, total in enumerate(plan.totals):
        poured = total.mixed / total.amount if total.amount else 1.0
        deviations = [] if told is None else [each.products[position] for each in told.deviations]
        needs[total.product.name] = Need(
            on,
            total.mixed,
            {shared.ground: poured * math.hypot(*deviations)} if deviations else {},
            {} if band is None else _by_output(band, position, poured, shared.calibrations),
            has_range=told is not None and band is not None,
        )
    return needs


def _by_output(
    band: OutputBand, position: int, poured: float, calibrations: Mapping[Tool, str]
) -> dict[str, StandardError]:
    errors: dict[str, StandardError] = {}
    amounts = band.products(position)
    for part, error, amount in zip(band.parts, band.errors, amounts, strict=True):
        own = StandardError(error.share * amount * poured, error.freedom)
        errors[calibrations[part.tool]] = own
    return errors
