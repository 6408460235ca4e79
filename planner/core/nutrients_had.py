"""What ground has had of each nutrient this year, by what was put down where. Rates in kg/m²."""

from dataclasses import replace
from datetime import date

import shapely

from planner.core.ground import Ground
from planner.core.nutrient_limits import NutrientRules, Per
from planner.core.nutrients import Nutrient
from planner.core.past import Past, PastApplication
from properties.core.ledger import Application, ledger
from properties.core.plane import polygons_of
from properties.core.units import quantity_of_si

_UNIT = "g/m2"


def with_history(rules: NutrientRules, past: Past, ground: Ground) -> NutrientRules:
    """Fill in what the ground has had this year from its history, where it was not told.

    Parameters
    ----------
    rules : NutrientRules
        The limits, the day, and what was told. [kg/m²]
    past : Past
        What was put down where, if anybody says. [kg/m²]
    ground : Ground
        The ground of the plan. [m]

    Returns
    -------
    NutrientRules
        The rules, with the most that any treatable spot has had of each limited nutrient.
        [kg/m²]

    Raises
    ------
    Nothing
        Where nobody says what was in something, its nutrients stay unknown.

    References
    ----------
    Our own rule: an average over a property would hide a full corner.
    """
    limited = {
        limit.nutrient
        for limit in rules.holding
        if limit.per is Per.YEAR and rules.so_far_of(limit.nutrient) is None
    }
    if past.history is None or rules.on is None or not limited:
        return rules
    if past.since is not None and past.since > date(rules.on.year, 1, 1):
        return rules
    this_year = [each for each in past.history if each.applied_on.year == rules.on.year]
    found = {
        nutrient: most
        for nutrient in Nutrient
        if nutrient in limited and (most := _most(nutrient, this_year, ground)) is not None
    }
    told = {nutrient: quantity_of_si(most, _UNIT) for nutrient, most in found.items()}
    return replace(rules, so_far={**rules.so_far, **told})


def _most(nutrient: Nutrient, applications: list[PastApplication], ground: Ground) -> float | None:
    """The most of it that any treatable spot has had; None where nobody knows."""
    area, frame = ground.treatment.treatable, ground.treatment.frame
    laid = []
    for each in applications:
        where = polygons_of(shapely.make_valid(frame.to_plane(each.where), method="structure"))
        amount = each.nutrient(nutrient)
        if not where.intersects(area):
            continue
        if amount is None:
            return None
        laid.append(Application(each.ref, each.applied_on, where, {nutrient.value: amount}))
    if not laid or area.is_empty:
        return 0.0
    return max(cell.highest.get(nutrient.value, 0.0) for cell in ledger(area, laid).cells)
