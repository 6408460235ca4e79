"""The nutrients of a plan as JSON, and the limits on them."""

from planner.core.amounts.feeding import Feeding, feeding_of
from planner.core.amounts.parts import Part
from planner.core.nutrient.limits import Checked, NutrientRules
from planner.core.nutrient.nutrients import Nutrient
from planner.core.report.quantities import Json, maybe, quantity
from planner.core.shown import Shown, in_unit
from properties.core.units import quantity_of_si


def feeding_as_json(part: Part, rules: NutrientRules, shown: Shown) -> Json:
    """Write what nutrients a tool puts down, where it puts down fertilizer.

    Parameters
    ----------
    part : Part
        The part. [-]
    rules : NutrientRules
        What limits nutrients at the place. [kg/m²]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The members ``nutrients`` and ``nutrient_limits``. [units shown]

    Raises
    ------
    Nothing
        Every part can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    feeding = feeding_of(part, rules)
    if not feeding.fed:
        return {}
    return {
        "nutrients": [_nutrient(nutrient, feeding, shown) for nutrient in Nutrient],
        "nutrient_limits": [_limit(each, shown) for each in feeding.checked],
    }


def _nutrient(nutrient: Nutrient, feeding: Feeding, shown: Shown) -> Json:
    rate = feeding.added[nutrient]
    amount = None if rate is None else rate * feeding.rated_m2
    return {
        "nutrient": nutrient.value,
        "rate": maybe(None if rate is None else shown.weight_rate_of(rate)),
        "amount": maybe(None if amount is None else shown.weight_of(amount)),
    }


def _limit(each: Checked, shown: Shown) -> Json:
    limit = each.limit
    rates = {"applied": each.applied, "so_far": each.so_far, "total": each.total}
    return {
        "nutrient": limit.nutrient.value,
        "per": limit.per.value,
        "at_most": quantity(in_unit(limit.at_most, shown.weight_rate)),
        **{
            name: maybe(None if rate is None else shown.weight_rate_of(rate))
            for name, rate in rates.items()
        },
        "lifted_by_soil_test": each.lifted_by_soil_test,
        **_slow_release(each),
        "allowed": each.allowed,
        "source": limit.origin,
    }


def _slow_release(each: Checked) -> Json:
    """Write what slow release does to a limit that it may lift."""
    least, share = each.limit.least_slow_release, each.slow_share
    if least is None:
        return {}
    return {
        "least_slow_release": quantity(least),
        "slow_release": maybe(None if share is None else quantity_of_si(share, "%")),
        "lifted_by_slow_release": each.lifted_by_slow_release,
    }
