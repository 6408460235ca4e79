"""What ground has had of each nutrient lately, by what was put down where. Rates in kg/m²."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

import shapely

from planner.core.ground.ground import Ground
from planner.core.nutrient.limits import NutrientRules, Per
from planner.core.nutrient.nutrients import Nutrient
from planner.core.past import Past, PastApplication
from properties.core.ledger import Application, ledger
from properties.core.plane import polygons_of
from properties.core.units import Quantity, quantity_of_si

_UNIT = "g/m2"


def with_history(rules: NutrientRules, past: Past, ground: Ground) -> NutrientRules:
    """Fill in what the ground has had lately from its history, where it was not told.

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
    on = rules.on
    if past.history is None or on is None:
        return rules
    found = {
        per: _had(per, rules, past, ground, on)
        for per in Per
        if per.counts_back and (past.since is None or past.since <= per.first_day(on))
    }
    so_far = {**rules.so_far, **found.pop(Per.YEAR, {})}
    lately = {per: {**rules.lately.get(per, {}), **had} for per, had in found.items()}
    return replace(rules, so_far=so_far, lately={**rules.lately, **lately})


def _had(
    per: Per, rules: NutrientRules, past: Past, ground: Ground, on: date
) -> Mapping[Nutrient, Quantity]:
    """What is not told of a span, as the most that any treatable spot has had."""
    untold = {
        limit.nutrient
        for limit in rules.holding
        if limit.per is per and rules.so_far_of(limit.nutrient, per) is None
    }
    counted = [each for each in past.history or () if per.counts(each.applied_on, on=on)]
    most = {each: _most(each, counted, ground) for each in Nutrient if each in untold}
    return {
        nutrient: quantity_of_si(amount, _UNIT)
        for nutrient, amount in most.items()
        if amount is not None
    }


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
