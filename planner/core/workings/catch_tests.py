"""How the verdicts on a spreader's catch tests came about, and what its first pass used."""

from collections.abc import Iterator
from itertools import pairwise

from planner.core.amounts.planned import Planned
from planner.core.machine.spreaders import CatchTests, DialSetting, settings_table
from planner.core.nutrient.nutrients import Nutrient
from planner.core.shown import PER_WEIGHT, Shown, in_unit
from planner.core.spread.catch_tests import CatchTest, judged_tests, suggested_setting
from planner.core.spread.first_pass import FirstPass
from planner.core.spread.spreading import Spread
from planner.core.workings.feeding import NUTRIENT_SOURCE
from planner.core.workings.spread import PASSES_SOURCE, TEST_SOURCE
from planner.core.workings.terms import below, grouped
from properties.core.units import Quantity
from properties.core.working import COMMON_PRACTICE, Figure, Input

TABLE_SOURCE = "Common practice: the mean of the firm’s own catch tests at each setting."
NEXT_SOURCE = "Our own rule: on the line between two of the firm’s own tests, never beyond them."


def catch_test_figures(planned: Planned, spread: Spread) -> Iterator[Figure]:
    """Derive what each catch test would put down, and the table of settings.

    Parameters
    ----------
    planned : Planned
        The figures. [-]
    spread : Spread
        What the spreader puts down. [kg/m²]

    Returns
    -------
    Iterator[Figure]
        The derivations. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    shown, swath_m = planned.shown, planned.parts[0].sprayer.swath.si
    tests = spread.spreading.calibration
    if not isinstance(tests, CatchTests):
        return
    judged = judged_tests(spread, planned.request.nutrient_rules)
    for position, (test, run) in enumerate(zip(judged, tests.runs, strict=True)):
        used = Input("used", in_unit(run.used, shown.weight))
        ground = Input("test area", shown.area_of(tests.ground_m2(run, swath_m=swath_m)))
        figures = _test(test, spread, (used, ground), shown)
        yield from below(f"spread.catch_tests[{position}]", figures)
    table = settings_table(spread.output.runs)
    for position, tested in enumerate(table):
        yield from below(f"spread.settings[{position}]", _setting(tested, spread, shown))
    yield from _next(spread, table, shown)


def first_pass_figures(
    first: FirstPass | None, spread: Spread, *, shown: Shown
) -> Iterator[Figure]:
    """Derive how far a first pass was off, and what is left for the second.

    Parameters
    ----------
    first : FirstPass or None
        The comparison, None where nobody told what it used. [kg]
    spread : Spread
        What the spreader puts down. [kg]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    if first is None:
        return
    used = Input("used", shown.weight_of(first.used_kg))
    planned = Input("planned", shown.weight_of(first.planned_kg))
    whole = Input("all passes", shown.weight_of(spread.kg))
    yield Figure(
        "spread.first_pass.planned",
        "What the first pass was planned to use",
        planned.name,
        (planned,),
        planned.quantity,
        PASSES_SOURCE,
    )
    yield Figure(
        "spread.first_pass.deviation_percent",
        "How far the first pass was off",
        f"100 × ({used.name} / {planned.name} − 1)",
        (used, planned),
        Quantity(100 * first.deviation, "%"),
        TEST_SOURCE,
    )
    yield Figure(
        "spread.first_pass.left",
        "What is left for the second pass",
        f"max(0, {whole.name} − {used.name})",
        (whole, used),
        shown.weight_of(first.left_kg),
        COMMON_PRACTICE,
    )


def _test(
    test: CatchTest, spread: Spread, measured: tuple[Input, Input], shown: Shown
) -> Iterator[Figure]:
    used, ground = measured
    name = f"Run {test.run.number}"
    rate = Input("rate of one pass", shown.weight_rate_of(test.run.kg_per_m2))
    wanted = Input("wanted", shown.weight_rate_of(spread.wanted_kg_per_m2))
    passes = Input("passes", Quantity(spread.times_over * spread.slope_factor, ""))
    whole = Input("rate", shown.weight_rate_of(test.rate))
    yield Figure(
        "rate_of_pass",
        f"{name}: what it put down",
        f"{PER_WEIGHT} × {used.name} / {ground.name}",
        (used, ground),
        rate.quantity,
        TEST_SOURCE,
    )
    yield Figure(
        "deviation_percent",
        f"{name}: how far it is from what one pass should put down",
        f"100 × ({rate.name} / {wanted.name} − 1)",
        (rate, wanted),
        Quantity(100 * test.deviation, "%"),
        TEST_SOURCE,
    )
    yield Figure(
        "rate",
        f"{name}: rate of all passes at this setting",
        f"{rate.name} × {passes.name}",
        (rate, passes),
        whole.quantity,
        PASSES_SOURCE,
    )
    yield from _nutrients(test, spread, whole, shown)


def _nutrients(test: CatchTest, spread: Spread, whole: Input, shown: Shown) -> Iterator[Figure]:
    fertilizer = spread.target.fertilizer
    for nutrient in (Nutrient.N, Nutrient.SOLUBLE_N):
        rate = test.added[nutrient]
        if rate is None:
            continue
        share = 0.0 if fertilizer is None else fertilizer.share_of(nutrient) or 0.0
        percent = Input("share of the product", Quantity(100 * share, "%"))
        yield Figure(
            f"nutrients.{nutrient}",
            f"Run {test.run.number}: {nutrient} that it would put down",
            f"{whole.name} × {percent.name} / 100",
            (whole, percent),
            shown.weight_rate_of(rate),
            NUTRIENT_SOURCE,
        )


def _setting(tested: DialSetting, spread: Spread, shown: Shown) -> Iterator[Figure]:
    runs = tuple(
        Input(f"run {run.number}", shown.weight_rate_of(run.kg_per_m2))
        for run in spread.output.runs
        if run.kept and run.setting == tested.setting
    )
    yield Figure(
        "rate",
        f"What one pass puts down at setting {tested.setting:.10g}",
        f"{grouped(runs)} / {len(runs)}",
        runs,
        shown.weight_rate_of(tested.kg_per_m2),
        TABLE_SOURCE,
    )


def _next(spread: Spread, table: tuple[DialSetting, ...], shown: Shown) -> Iterator[Figure]:
    setting, wanted = suggested_setting(spread), spread.aimed_kg_per_m2
    if setting is None:
        return
    lower, upper = next(
        pair for pair in pairwise(table) if pair[0].setting <= setting <= pair[1].setting
    )
    low = Input("lower setting", Quantity(lower.setting, ""))
    high = Input("upper setting", Quantity(upper.setting, ""))
    at_low = Input("rate at lower", shown.weight_rate_of(lower.kg_per_m2))
    at_high = Input("rate at upper", shown.weight_rate_of(upper.kg_per_m2))
    between = Input("rate wanted", shown.weight_rate_of(wanted))
    yield Figure(
        "spread.next_setting",
        "Setting that should put down what is wanted; test it before you use it",
        f"{low.name} + ({high.name} − {low.name}) × ({between.name} − {at_low.name}) / "
        f"({at_high.name} − {at_low.name})",
        (low, high, between, at_low, at_high),
        Quantity(setting, ""),
        NEXT_SOURCE,
    )
