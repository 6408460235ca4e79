"""How an output came about from what was measured, how its runs vary, and its flukes."""

import statistics
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.core.calibration import (
    Calibration,
    HandGunCourse,
    MeasuredCourse,
    Output,
    Reading,
    SmallPlot,
    TimedCatch,
    TimedCourse,
    variation_of,
)
from planner.core.calibration.spread import t_of_95_percent
from planner.core.shown import Shown, in_unit
from planner.core.workings.terms import grouped
from properties.core.units import Quantity
from properties.core.working import Figure, Input

COURSE_SOURCE = (
    "Pesticide Environmental Stewardship (NC State), Spray Gun calibration page: output = catch / "
    "area of the course."
)
CATCH_SOURCE = (
    "University of Florida IFAS Extension, WG013, equation 1: output = flow of a nozzle / (speed × "
    "nozzle spacing); its 5940 is 43,560 × 12 / 88."
)
SPEED_SOURCE = (
    "Oklahoma State University Turf Program, fact sheet Sprayer Calibration: speed = length of the "
    "course / time."
)
PLOT_SOURCE = (
    "Kansas State University Research & Extension, R. E. Wolf, Hand Sprayer Calibration Steps "
    "Worksheet: spray of the time that a plot takes, over its area; here over its own area, not "
    "over 1/128 acre by rule of thumb."
)
VARIATION_SOURCE = (
    "Common practice: sample standard deviation (divisor n − 1) of the runs that are kept, over "
    "their mean."
)
ERROR_SOURCE = (
    "NIST/SEMATECH e-Handbook of Statistical Methods, sections 1.3.5.2 and 1.3.6.7.2: the mean of "
    "all runs is within t standard errors of the mean of these 95 times in 100; t by the number of "
    "readings. Shares of a product add by their squares, with the degrees of freedom of Welch and "
    "Satterthwaite (JCGM 100:2008, G.4)."
)
FLUKE_SOURCE = (
    "Our own rule, after the limit for a single nozzle, 10 % from the others: Mississippi State "
    "University Extension, Turf Tips 3-16-09 and 2-4-13. The middle run is the median."
)
NOZZLE_SOURCE = (
    "University of Georgia, Special Bulletin 16, and Mississippi State University Extension, Turf "
    "Tips 3-16-09: each nozzle within 10 % of the mean."
)
STATED_SOURCE = "Stated by the person who asked, not measured."


def calibration_figures(
    calibration: Calibration, output: Output, *, swath: Quantity, shown: Shown
) -> Iterator[Figure]:
    """Derive an output from what was measured; the output itself comes first.

    Parameters
    ----------
    calibration : Calibration
        What was measured. [-]
    output : Output
        What it came to. [L/m²]
    swath : Quantity
        Effective width of one pass. [length]
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
    told = _Told(output, swath, shown)
    match calibration:
        case MeasuredCourse():
            yield from told.course(calibration)
        case TimedCatch():
            yield from told.catch(calibration)
        case HandGunCourse() | SmallPlot():
            yield told.passes(calibration)
            yield from told.how_sure(calibration.passes.catches, calibration.passes.times)
        case _:
            yield told.stated(calibration.output)


@dataclass(frozen=True)
class _Told:
    """An output and the units it is told in."""

    output: Output
    swath: Quantity
    shown: Shown

    def result(self, name: str, formula: str, inputs: Sequence[Input], source: str) -> Figure:
        shown = self.shown.output_of(self.output.l_per_m2)
        return Figure("output", name, formula, tuple(inputs), shown, source)

    def stated(self, output: Quantity) -> Figure:
        stated = Input("stated output", in_unit(output, self.shown.output))
        return self.result("Output, as stated", "stated output", [stated], STATED_SOURCE)

    def runs(self, read: Sequence[Quantity]) -> tuple[Input, ...]:
        return tuple(
            Input(f"run {run.number}", self.reading(read[run.number - 1]))
            for run in self.output.kept
        )

    def reading(self, read: Quantity) -> Quantity:
        is_time = self.output.reading is Reading.TIME
        return in_unit(read, "s" if is_time else self.shown.spray)

    def length(self, name: str, length: Quantity) -> Input:
        return Input(name, in_unit(length, self.shown.length))

    def course(self, course: MeasuredCourse) -> Iterator[Figure]:
        runs = self.runs(course.volumes_used)
        length = self.length("course length", course.course_length)
        yield self.result(
            "Output over the measured course: mean of the runs that are kept",
            f"{self.shown.per_area} × {_mean(runs)} / (course length × swath)",
            (*runs, length, self.length("swath", self.swath)),
            COURSE_SOURCE,
        )
        yield from self.how_sure((), course.volumes_used)

    def catch(self, catch: TimedCatch) -> Iterator[Figure]:
        shown = self.shown
        nozzles = tuple(
            Input(f"nozzle {number}", in_unit(each, shown.liquid))
            for number, each in enumerate(catch.catches, start=1)
        )
        mean_l = statistics.fmean(each.si for each in catch.catches)
        mean = Input("mean catch", shown.product_of(mean_l))
        time = Input("catch time", in_unit(catch.catch_time, "s"))
        spacing = self.length("nozzle spacing", catch.nozzle_spacing)
        ground, moved = self.speed(catch.pace)
        yield self.result(
            "Output: mean catch of the nozzles, over the ground that one covers meanwhile",
            f"{shown.per_area} × mean catch / {shown.small_in_volume} / catch time / "
            f"({moved} × nozzle spacing)",
            (mean, time, *ground, spacing),
            CATCH_SOURCE,
        )
        if isinstance(catch.pace, TimedCourse):
            yield from self.how_sure(catch.catches, catch.pace.times)
        for position, (nozzle, each) in enumerate(zip(self.output.nozzles, nozzles, strict=True)):
            yield Figure(
                f"output.nozzles[{position}].deviation_percent",
                f"How far nozzle {nozzle.number} is from the mean of all {len(nozzles)}",
                f"100 × ({each.name} / mean catch − 1)",
                (each, mean),
                Quantity(100 * nozzle.deviation, "%"),
                NOZZLE_SOURCE,
            )

    def speed(self, pace: TimedCourse | Quantity) -> tuple[tuple[Input, ...], str]:
        if isinstance(pace, Quantity):
            return (Input("speed", in_unit(pace, self.shown.speed)),), "speed"
        runs = self.runs(pace.times)
        length = self.length("course length", pace.course_length)
        return (*runs, length), f"course length / {_mean(runs, bracketed=True)}"

    def passes(self, told: HandGunCourse | SmallPlot) -> Figure:
        passes = told.passes
        runs = self.runs(passes.times)
        catches = tuple(
            Input(f"catch {number}", in_unit(each, self.shown.spray))
            for number, each in enumerate(passes.catches, start=1)
        )
        used, timed = _mean(catches), runs
        if passes.catch_time is None:
            timed = ()
        else:
            used = f"{used} × {_mean(runs)} / catch time"
            timed = (*runs, Input("catch time", in_unit(passes.catch_time, "s")))
        name, ground, sides, source = self.ground(told)
        return self.result(
            f"Output: what the tip gives in the mean time of the runs, over {name}",
            f"{self.shown.per_area} × {used} / {ground}",
            (*catches, *timed, *sides),
            source,
        )

    def ground(self, told: HandGunCourse | SmallPlot) -> tuple[str, str, tuple[Input, ...], str]:
        if isinstance(told, HandGunCourse):
            sides = (
                self.length("course length", told.course_length),
                self.length("swath", self.swath),
            )
            return "the course", "(course length × swath)", sides, COURSE_SOURCE
        if isinstance(told.area, Quantity):
            area = Input("plot area", in_unit(told.area, self.shown.area))
            return "the plot", "plot area", (area,), PLOT_SOURCE
        length, width = told.area
        sides = (self.length("plot length", length), self.length("plot width", width))
        return "the plot", "(plot length × plot width)", sides, PLOT_SOURCE

    def how_sure(self, catches: Sequence[Quantity], read: Sequence[Quantity]) -> Iterator[Figure]:
        """How the runs vary, how well their mean is known, and which were left out."""
        yield self.variation(self.runs(read))
        yield from self.error(catches)
        yield from self.flukes(read)

    def variation(self, runs: tuple[Input, ...]) -> Figure:
        mean = Input("mean", self.reading(self.mean_of_kept))
        squares = " + ".join(f"({run.name} − mean)²" for run in runs)
        return Figure(
            "output.cv_percent",
            "Coefficient of variation of the runs that are kept",
            f"100 × sqrt(({squares}) / ({len(runs)} − 1)) / mean",
            (*runs, mean),
            Quantity(100 * (self.output.variation or 0.0), "%"),
            VARIATION_SOURCE,
        )

    @property
    def mean_of_kept(self) -> Quantity:
        kept = self.output.kept
        read = sum(run.read for run in kept) / len(kept)
        return Quantity(read, "s" if self.output.reading is Reading.TIME else "L")

    def error(self, catches: Sequence[Quantity]) -> Iterator[Figure]:
        error = self.output.error
        if error is None:
            return
        t, count = f"{t_of_95_percent(error.freedom):g}", len(self.output.kept)
        varied = Input("cv", Quantity(100 * (self.output.variation or 0.0), "%"))
        formula = f"{t} × cv / sqrt({count})"
        inputs: tuple[Input, ...] = (varied,)
        if catches:
            share = variation_of([catch.si for catch in catches])
            inputs = (varied, Input("catches vary by", Quantity(100 * share, "%")))
            formula = f"{t} × sqrt(cv² / {count} + catches vary by² / {len(catches)})"
        yield Figure(
            "output.plus_minus_percent",
            f"How well the output is known, 95 times in 100 (cv of the runs; t = {t})",
            formula,
            inputs,
            Quantity(100 * error.half_width, "%"),
            ERROR_SOURCE,
        )

    def flukes(self, read: Sequence[Quantity]) -> Iterator[Figure]:
        median = statistics.median(run.read for run in self.output.runs)
        unit = "s" if self.output.reading is Reading.TIME else "L"
        middle = Input("middle run", self.reading(Quantity(median, unit)))
        for number, run in enumerate(self.output.flukes):
            name = f"run {run.number}"
            yield Figure(
                f"output.flukes[{number}].deviation_percent",
                f"How far run {run.number} is from the middle run",
                f"100 × ({name} / middle run − 1)",
                (Input(name, self.reading(read[run.number - 1])), middle),
                Quantity(100 * run.deviation, "%"),
                FLUKE_SOURCE,
            )


def _mean(terms: Sequence[Input], *, bracketed: bool = False) -> str:
    mean = f"{grouped(terms)} / {len(terms)}"
    return f"({mean})" if bracketed else mean
