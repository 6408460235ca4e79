"""The catch tests of a spreader judged: by what was wanted, by the label, by every limit.

Rates are kg/m²: of one pass, or of all passes on the ground that a label's rate meets.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from planner.core.machine.spreaders import DryRun, next_setting, settings_table
from planner.core.nutrient.limits import Checked, NutrientRules, checked_limits
from planner.core.nutrient.nutrients import Nutrient, added_nutrients
from planner.core.spread.spreading import Spread, is_off


class Verdict(StrEnum):
    """What a catch test says."""

    PASS = "pass"  # noqa: S105 - a verdict
    ADJUST = "adjust"
    FAIL = "fail"


class Reason(StrEnum):
    """Why a catch test does not pass."""

    TOLERANCE = "tolerance"
    LIMIT = "limit"
    LABEL = "label"


@dataclass(frozen=True)
class CatchTest:
    """One run against what was wanted, and what it would put down in all passes.

    ``broken`` are the limits that this would break.
    """

    run: DryRun
    deviation: float
    rate: float
    added: Mapping[Nutrient, float | None]
    broken: tuple[Checked, ...]
    reasons: tuple[Reason, ...]

    @property
    def verdict(self) -> Verdict:
        """Fail where it is too far off, adjust where only a limit or the label speaks against."""
        if Reason.TOLERANCE in self.reasons:
            return Verdict.FAIL
        return Verdict.ADJUST if self.reasons else Verdict.PASS


def judged_tests(spread: Spread, rules: NutrientRules) -> tuple[CatchTest, ...]:
    """Judge every catch test of a spreader.

    Parameters
    ----------
    spread : Spread
        What the spreader puts down. [kg/m²]
    rules : NutrientRules
        What limits nutrients at the place. [kg/m²]

    Returns
    -------
    tuple[CatchTest, ...]
        The tests in the order they were made. [kg/m²]

    Raises
    ------
    Nothing
        Any test can be judged.

    References
    ----------
    UMass Extension Turf Program, Rotary Spreader Calibration Procedures: within 5 %.
    """
    return tuple(_judged(run, spread, rules) for run in spread.output.runs)


def _judged(run: DryRun, spread: Spread, rules: NutrientRules) -> CatchTest:
    deviation = spread.deviation_of(run.kg_per_m2)
    rate = spread.rate_of_pass(run.kg_per_m2)
    fertilizer = spread.target.fertilizer
    added = added_nutrients([] if fertilizer is None else [(rate, fertilizer)])
    checked = () if fertilizer is None else checked_limits(rules, added)
    broken = tuple(each for each in checked if each.allowed is False)
    reasons = _reasons(spread, deviation, rate, is_broken=bool(broken))
    return CatchTest(run, deviation, rate, added, broken, tuple(reasons))


def _reasons(spread: Spread, deviation: float, rate: float, *, is_broken: bool) -> Iterator[Reason]:
    if is_off(deviation):
        yield Reason.TOLERANCE
    if is_broken:
        yield Reason.LIMIT
    if spread.target.allows(rate) is False:
        yield Reason.LABEL


def suggested_setting(spread: Spread) -> float | None:
    """Suggest a setting from the firm's own catch tests with this product.

    Parameters
    ----------
    spread : Spread
        What the spreader puts down. [kg/m²]

    Returns
    -------
    float or None
        The setting between two tests that would put down what is wanted; None where no
        two tests lie either side. [of the dial]

    Raises
    ------
    Nothing
        Any tests can be looked up.

    References
    ----------
    See ``next_setting``.
    """
    return next_setting(settings_table(spread.output.runs), wanted=spread.aimed_kg_per_m2)
