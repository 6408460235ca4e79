"""What a spreader puts down, as JSON: passes, bags, catch tests, settings."""

from collections.abc import Sequence

from planner.core.amounts.parts import Part
from planner.core.amounts.planned import Planned
from planner.core.machine.spreaders import SpreadOutput, settings_table
from planner.core.nutrient.nutrients import Nutrient
from planner.core.report.quantities import Json, maybe, quantity, rate_of
from planner.core.report.tanks import output_as_json
from planner.core.shown import Shown, in_unit
from planner.core.spread.bags import Bags, Fillings
from planner.core.spread.catch_tests import CatchTest, judged_tests, suggested_setting
from planner.core.spread.first_pass import FirstPass
from planner.core.spread.spreading import Pass

CLOSING = (
    "Sweep or blow every grain off paving, walks and drives back onto the turf before you leave. "
    "In New York, New Jersey and Maryland, for example, the law asks for it."
)


def what_leaves_as_json(parts: Sequence[Part], carrier_l: float, shown: Shown) -> Json:
    """Write what leaves the machine: an output of spray and its volume, or one of granules.

    Parameters
    ----------
    parts : Sequence[Part]
        The parts of a plan. [-]
    carrier_l : float
        All the finished spray. [L]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The members ``output`` and ``carrier_volume``; the latter is null for a spreader.
        [units shown]

    Raises
    ------
    Nothing
        Every part can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    spread = parts[0].spread
    if spread is not None:
        return {"output": _output(spread.output, shown), "carrier_volume": None}
    return {
        "output": output_as_json(parts[0].output, shown),
        "carrier_volume": quantity(shown.spray_of(carrier_l)),
    }


def spread_as_json(planned: Planned, shown: Shown) -> Json:
    """Write how a spreader does its job.

    Parameters
    ----------
    planned : Planned
        The figures. [kg]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The member ``spread``, where the machine is a spreader. [units shown]

    Raises
    ------
    Nothing
        Every spreader can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    spread = planned.spread
    if spread is None:
        return {}
    first, rules = planned.first_pass, planned.request.nutrient_rules
    return {
        "spread": {
            "product": spread.product.name,
            "setting": spread.output.setting,
            "times_over": spread.times_over,
            "deflector": spread.spreading.deflector,
            "target_rate": rate_of(spread.target, spread.target.rate.si, shown),
            "rate": rate_of(spread.product, spread.product.rate.si, shown),
            "deviation_percent": 100 * spread.deviation,
            "passes": [_pass(each, shown) for each in spread.passes],
            "bags": None if spread.bags is None else _bags(spread.bags, shown),
            "catch_tests": [_test(test, shown) for test in judged_tests(spread, rules)],
            "next_setting": suggested_setting(spread),
            "settings": [
                {
                    "setting": each.setting,
                    "rate": quantity(shown.weight_rate_of(each.kg_per_m2)),
                    "runs": each.runs,
                }
                for each in settings_table(spread.output.runs)
            ],
            **({} if first is None else {"first_pass": _first_pass(first, shown)}),
            "closing": CLOSING,
        }
    }


def _output(output: SpreadOutput, shown: Shown) -> Json:
    """The output of one pass at the setting that stands."""
    variation = None if output.at_setting is None else output.at_setting.variation
    return {
        **quantity(shown.weight_rate_of(output.kg_per_m2)),
        "method": "weigh_back" if output.runs else "stated",
        "runs": len(output.here),
        "runs_kept": len(output.kept),
        "cv_percent": None if variation is None else 100 * variation,
        "flukes": [{"run": run.number} for run in output.here if not run.kept],
    }


def _pass(each: Pass, shown: Shown) -> Json:
    portion = each.portion
    measured = portion.measured
    return {
        "number": each.number,
        "rate": rate_of(portion.product, portion.product.rate.si, shown),
        "amount": quantity(shown.weight_of(portion.amount)),
        "amount_to_measure": maybe(None if measured is None else measured.shown_in(shown.weight)),
        "measure": maybe(None if measured is None else measured.mark),
        "rate_after_rounding": rate_of(portion.product, portion.rate_after_rounding, shown),
        "fillings": None if each.fillings is None else _fillings(each.fillings, shown),
    }


def _fillings(fillings: Fillings, shown: Shown) -> Json:
    return {
        "count": fillings.count,
        "full": quantity(shown.weight_of(fillings.full_kg)),
        "last": quantity(shown.weight_of(fillings.last_kg)),
    }


def _bags(bags: Bags, shown: Shown) -> Json:
    return {
        "bag": quantity(in_unit(bags.bag, shown.weight)),
        "count": bags.count,
        "left_over": quantity(shown.weight_of(bags.left_over_kg)),
    }


def _test(test: CatchTest, shown: Shown) -> Json:
    told = (Nutrient.N, Nutrient.SOLUBLE_N)
    nutrients = {nutrient.value: test.added[nutrient] for nutrient in told}
    return {
        "run": test.run.number,
        "setting": test.run.setting,
        "rate_of_pass": quantity(shown.weight_rate_of(test.run.kg_per_m2)),
        "deviation_percent": 100 * test.deviation,
        "rate": quantity(shown.weight_rate_of(test.rate)),
        "nutrients": {
            name: maybe(None if rate is None else shown.weight_rate_of(rate))
            for name, rate in nutrients.items()
        },
        "verdict": test.verdict.value,
        "reasons": [reason.value for reason in test.reasons],
        "broken_limits": [
            f"{broken.limit.nutrient} per {broken.limit.per}" for broken in test.broken
        ],
    }


def _first_pass(first: FirstPass, shown: Shown) -> Json:
    return {
        "used": quantity(shown.weight_of(first.used_kg)),
        "planned": quantity(shown.weight_of(first.planned_kg)),
        "deviation_percent": 100 * first.deviation,
        "left": quantity(shown.weight_of(first.left_kg)),
        "recalibrate": first.is_off,
    }
