"""What is found about a spreader: its catch tests, its rate, what its scales can show."""

import math
from collections.abc import Iterator

from planner.core.calibration import RUNS_NEEDED
from planner.core.findings import Finding, Findings
from planner.core.machine.spreaders import CatchTests
from planner.core.mix.measures import Measures
from planner.core.mix.products import rate_findings
from planner.core.shown import Shown, listed, said
from planner.core.spread.catch_tests import suggested_setting
from planner.core.spread.spreading import Spread, is_off

UNEVEN_SHARE = 0.05


def spread_findings(spread: Spread, *, measures: Measures, shown: Shown) -> Findings:
    """Say what speaks against a spreader's part of a plan.

    Parameters
    ----------
    spread : Spread
        What the spreader puts down. [kg, kg/m²]
    measures : Measures
        The marks of the scales. [kg]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        Warnings, and refusals where the catch tests do not carry the plan. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    UMass Extension Turf Program, Rotary Spreader Calibration Procedures: within 5 %, and
    again for each product.
    """
    found = Findings(
        (*_test_warnings(spread, shown), *_product_untold(spread)),
        (*_other_product(spread), *_scattered(spread), *_off_target(spread, shown)),
    )
    return found + rate_findings(spread.product) + _too_coarse(spread, measures, shown)


def _test_warnings(spread: Spread, shown: Shown) -> Iterator[Finding]:
    output = spread.output
    if output.at_setting is None:
        message = (
            f"The output {said(shown.weight_rate_of(output.kg_per_m2))} of one pass was stated, "
            "not measured. Make a catch test with this product before you spread."
        )
        yield Finding("output_stated", message, product=spread.product.name)
        return
    kept = len(output.kept)
    if kept < RUNS_NEEDED:
        runs = "run of the catch test stands" if kept == 1 else "runs of the catch test stand"
        message = (
            f"Only {kept} {runs} at setting {output.setting:.10g}. Make "
            f"{RUNS_NEEDED} that agree, to know that it was no chance."
        )
        yield Finding("catch_tests_few", message, product=spread.product.name)
    left_out = [run for run in output.here if not run.kept]
    if left_out:
        message = (
            f"{listed([f'Run {run.number}' for run in left_out])} of the catch test is more than "
            "10 % from the middle one at its setting, and is left out. Find out what was different."
        )
        yield Finding("calibration_fluke", message)
    variation = output.at_setting.variation or 0.0
    if variation > UNEVEN_SHARE and not math.isclose(variation, UNEVEN_SHARE):
        message = (
            f"The catch tests at this setting vary by {variation:.1%} (coefficient of variation), "
            "more than 5 %. Keep the same pace and an even hopper, and test again."
        )
        yield Finding("calibration_uneven", message)


def _product_untold(spread: Spread) -> Iterator[Finding]:
    tests = spread.spreading.calibration
    if isinstance(tests, CatchTests) and tests.product is None:
        message = (
            f"Nobody says with which product the catch tests were made, and {spread.product.name} "
            "may run otherwise. Make a catch test with this product, and write its name down."
        )
        yield Finding("calibration_product_unknown", message, product=spread.product.name)


def _other_product(spread: Spread) -> Iterator[Finding]:
    tests = spread.spreading.calibration
    tested = tests.product if isinstance(tests, CatchTests) else None
    if tested is None or tested.casefold() == spread.product.name.casefold():
        return
    message = (
        f"The catch tests were made with {tested}, and grains of {spread.product.name} run "
        "otherwise. Make a catch test with this product."
    )
    yield Finding("calibration_other_product", message, product=spread.product.name)


def _scattered(spread: Spread) -> Iterator[Finding]:
    output = spread.output
    if output.at_setting is not None and output.at_setting.is_scattered:
        message = (
            f"The catch tests at setting {output.setting:.10g} are too far apart to tell which is "
            "wrong. Check the gate, the agitator and the pace, then test again."
        )
        yield Finding("calibration_scattered", message)


def _off_target(spread: Spread, shown: Shown) -> Iterator[Finding]:
    if not is_off(spread.deviation):
        return
    more = "more" if spread.deviation > 0 else "less"
    message = (
        f"{spread.product.name}: one pass puts down "
        f"{said(shown.weight_rate_of(spread.output.kg_per_m2))} and should put down "
        f"{said(shown.weight_rate_of(spread.wanted_kg_per_m2))}: {abs(spread.deviation):.1%} "
        f"{more}, and 5 % is allowed. {_next_step(spread)}"
    )
    yield Finding("spread_off_target", message, product=spread.product.name)


def _next_step(spread: Spread) -> str:
    setting = suggested_setting(spread)
    if setting is not None:
        return f"Try setting {setting:.3g}, between two of your own tests, and test it."
    narrower = "narrower" if spread.deviation > 0 else "wider"
    return (
        f"Set it {narrower} and test again. No two of your own tests lie either side of what is "
        "wanted, so no setting can be told from them."
    )


def _too_coarse(spread: Spread, measures: Measures, shown: Shown) -> Findings:
    portion = spread.passes[0].portion
    if portion.measured is not None or not portion.amount or not spread.allowed:
        return Findings()
    message = (
        f"{spread.product.name}: {said(shown.weight_of(portion.amount))} for one pass cannot be "
        f"weighed out inside the label and every limit with marks of "
        f"{listed([str(mark) for mark in measures.dry])}. Use finer scales, or choose another rate."
    )
    return Findings(refusals=(Finding("measure_too_coarse", message, product=spread.product.name),))
