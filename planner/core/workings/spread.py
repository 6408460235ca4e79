"""How it came about what a spreader puts down: its output, its passes, its bags."""

from collections.abc import Iterator
from dataclasses import replace

from planner.core.amounts.planned import Planned
from planner.core.machine.spreaders import StatedSpread
from planner.core.mix.products import NutrientTarget
from planner.core.nutrient.nutrients import Nutrient
from planner.core.shown import PER_WEIGHT, Shown, in_unit
from planner.core.spread.bags import Bags, Fillings
from planner.core.spread.spreading import Pass, Spread
from planner.core.workings.calibration import STATED_SOURCE, VARIATION_SOURCE
from planner.core.workings.products import MEASURE_SOURCE, product_figures
from planner.core.workings.rates import ASKED_SOURCE
from planner.core.workings.terms import Extents, below, grouped
from properties.core.units import Quantity
from properties.core.working import COMMON_PRACTICE, Figure, Input

TEST_SOURCE = (
    "UMass Extension Turf Program, Rotary Spreader Calibration Procedures: rate = weight used / "
    "area of the test; within 5 % of what is wanted."
)
TARGET_SOURCE = (
    "UMass Extension Turf Program, Rotary Spreader Calibration Procedures: product = nutrient / "
    "its fraction of the product."
)
PASSES_SOURCE = "Our own derivation: what one pass puts down, times the passes."
BAGS_SOURCE = "Common practice: whole bags, rounded up; the rest goes back to store."


def spread_figures(planned: Planned, spread: Spread, extents: Extents) -> Iterator[Figure]:
    """Derive every figure of a spreader's job.

    Parameters
    ----------
    planned : Planned
        The figures. [-]
    spread : Spread
        What the spreader puts down. [kg]
    extents : Extents
        The ground that the rates meet. [unit shown]

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
    shown = planned.shown
    yield from _output(spread, shown)
    passes = replace(extents, loads=tuple(each.number for each in spread.passes), portion="pass")
    for figure in product_figures(planned.totals, passes, shown=shown):
        yield _rate_used(spread, shown) if figure.key.endswith("rate_used") else figure
    yield from below("spread", _spread(spread, extents, shown))


def _output(spread: Spread, shown: Shown) -> Iterator[Figure]:
    output, tests = spread.output, spread.spreading.calibration
    result = shown.weight_rate_of(output.kg_per_m2)
    if isinstance(tests, StatedSpread):
        stated = Input("stated output", in_unit(tests.rate, shown.weight_rate))
        name = "Output of one pass, as stated"
        yield Figure("output", name, stated.name, (stated,), result, STATED_SOURCE)
        return
    runs = tuple(
        Input(f"run {run.number}", shown.weight_rate_of(run.kg_per_m2)) for run in output.kept
    )
    yield Figure(
        "output",
        f"Output of one pass at setting {output.setting:.10g}: mean of the runs that are kept",
        f"{grouped(runs)} / {len(runs)}",
        runs,
        result,
        TEST_SOURCE,
    )
    if output.at_setting is not None and output.at_setting.variation is not None:
        squares = " + ".join(f"({run.name} − mean)²" for run in runs)
        yield Figure(
            "output.cv_percent",
            "Coefficient of variation of the runs that are kept",
            f"100 × sqrt(({squares}) / ({len(runs)} − 1)) / mean",
            (*runs, Input("mean", result)),
            Quantity(100 * output.at_setting.variation, "%"),
            VARIATION_SOURCE,
        )


def _rate_used(spread: Spread, shown: Shown) -> Figure:
    return replace(_rate(spread, shown), key="products[0].rate_used")


def _rate(spread: Spread, shown: Shown) -> Figure:
    output = Input("output of one pass", shown.weight_rate_of(spread.output.kg_per_m2))
    passes = Input("passes", Quantity(spread.times_over, ""))
    inputs = [output, passes]
    if spread.slope_factor != 1:
        inputs.append(Input("slope factor", Quantity(spread.slope_factor, "")))
    formula = " × ".join(each.name for each in inputs)
    result = shown.rate_of(spread.product.rate, spread.product.rate.si)
    name = f"Rate of {spread.product.name} that the spreader puts down"
    return Figure("rate", name, formula, tuple(inputs), result, PASSES_SOURCE)


def _spread(spread: Spread, extents: Extents, shown: Shown) -> Iterator[Figure]:
    yield _target(spread, shown)
    yield _rate(spread, shown)
    rate = Input("rate", shown.weight_rate_of(spread.product.rate.si))
    target = Input("target rate", shown.weight_rate_of(spread.target.rate.si))
    yield Figure(
        "deviation_percent",
        "How far the rate is from what was asked for",
        f"100 × ({rate.name} / {target.name} − 1)",
        (rate, target),
        Quantity(100 * spread.deviation, "%"),
        TEST_SOURCE,
    )
    for position, each in enumerate(spread.passes):
        yield from below(f"passes[{position}]", _pass(each, spread, extents.area, shown))
    if spread.bags is not None:
        yield from below("bags", _bags(spread.bags, spread, shown))


def _target(spread: Spread, shown: Shown) -> Figure:
    asked = shown.rate_of(spread.target.rate, spread.target.rate.si)
    name = f"Rate of {spread.product.name} that is asked for"
    target, fertilizer = spread.target.target, spread.target.fertilizer
    share = None if target is None or fertilizer is None else fertilizer.share_of(target.nutrient)
    if target is None or not share:
        told = Input("rate asked for", asked)
        return Figure("target_rate", name, told.name, (told,), asked, ASKED_SOURCE)
    return _from_nutrient(name, target, share, asked, shown)


def _from_nutrient(
    name: str, target: NutrientTarget, share: float, asked: Quantity, shown: Shown
) -> Figure:
    elemental = {Nutrient.P: " of P, from its P2O5", Nutrient.K: " of K, from its K2O"}
    wanted = Input("nutrient wanted", in_unit(target.rate, shown.weight_rate))
    percent = Input("share of the product", Quantity(100 * share, "%"))
    return Figure(
        "target_rate",
        f"{name}, by its {target.nutrient}{elemental.get(target.nutrient, '')}",
        f"100 × {wanted.name} / {percent.name}",
        (wanted, percent),
        asked,
        TARGET_SOURCE,
    )


def _pass(each: Pass, spread: Spread, area: Input, shown: Shown) -> Iterator[Figure]:
    portion, name = each.portion, f"Pass {each.number}"
    whole = Input("rate of all passes", shown.weight_rate_of(spread.product.rate.si))
    passes = Input("passes", Quantity(spread.times_over, ""))
    rate = Input("rate of the pass", shown.weight_rate_of(portion.product.rate.si))
    yield Figure(
        "rate",
        f"{name}: {portion.product.name} on the ground",
        f"{whole.name} / {passes.name}",
        (whole, passes),
        rate.quantity,
        PASSES_SOURCE,
    )
    yield Figure(
        "amount",
        f"{name}: {portion.product.name}",
        f"{area.name} × {rate.name} / {PER_WEIGHT}",
        (area, rate),
        shown.weight_of(portion.amount),
        PASSES_SOURCE,
    )
    if portion.measured is not None and portion.rate_after_rounding is not None:
        measured = Input("weighed out", portion.measured.shown_in(shown.weight))
        yield Figure(
            "amount_to_measure",
            f"{name}: {portion.product.name} to weigh out",
            "number of marks × mark",
            (
                Input("number of marks", Quantity(portion.measured.marks, "")),
                Input("mark", in_unit(portion.measured.mark, shown.weight)),
            ),
            measured.quantity,
            MEASURE_SOURCE,
        )
        yield Figure(
            "rate_after_rounding",
            f"{name}: rate that the weighed {portion.product.name} gives",
            f"{PER_WEIGHT} × {measured.name} / {area.name}",
            (measured, area),
            shown.weight_rate_of(portion.rate_after_rounding),
            PASSES_SOURCE,
        )
    if each.fillings is not None:
        yield from below("fillings", _fillings(each, each.fillings, shown))


def _fillings(each: Pass, fillings: Fillings, shown: Shown) -> Iterator[Figure]:
    portion = each.portion
    set_out_kg = portion.amount if portion.measured is None else portion.measured.si
    weight = Input("weight of the pass", shown.weight_of(set_out_kg))
    hopper = Input("hopper", shown.weight_of(fillings.full_kg))
    count = Input("fillings", Quantity(fillings.count, ""))
    yield Figure(
        "count",
        f"Pass {each.number}: fillings of the hopper",
        f"ceil({weight.name} / {hopper.name})",
        (weight, hopper),
        count.quantity,
        COMMON_PRACTICE,
    )
    yield Figure(
        "last",
        f"Pass {each.number}: the last filling of the hopper",
        f"{weight.name} − max(0, {count.name} − 1) × {hopper.name}",
        (weight, hopper, count),
        shown.weight_of(fillings.last_kg),
        COMMON_PRACTICE,
    )


def _bags(bags: Bags, spread: Spread, shown: Shown) -> Iterator[Figure]:
    bag = Input("bag", in_unit(bags.bag, shown.weight))
    count = Input("bags", Quantity(bags.count, ""))
    needed = Input("needed", shown.weight_of(bags.count * bags.bag.si - bags.left_over_kg))
    name = spread.product.name
    yield Figure(
        "count",
        f"Bags of {name} to load",
        f"ceil({needed.name} / {bag.name})",
        (needed, bag),
        count.quantity,
        BAGS_SOURCE,
    )
    yield Figure(
        "left_over",
        f"{name} that goes back to store",
        f"{count.name} × {bag.name} − {needed.name}",
        (count, bag, needed),
        shown.weight_of(bags.left_over_kg),
        BAGS_SOURCE,
    )
