"""How the output and the finished spray of a plan came about."""

import statistics
from collections.abc import Iterator

from planner.core.calibration import MeasuredCourse, Output
from planner.core.parts import Part
from planner.core.shown import Shown, in_unit
from planner.core.workings.terms import grouped
from properties.core.units import Quantity
from properties.core.working import Figure, Input

COURSE_SOURCE = (
    "Pesticide Environmental Stewardship (NC State), Spray Gun calibration page: output = catch / "
    "area of the course."
)
VARIATION_SOURCE = (
    "Common practice: sample standard deviation (divisor n − 1) of the runs that are kept, over "
    "their mean."
)
FINISHED_SPRAY_SOURCE = (
    "Agrochemical and Pesticide Safety Handbook (CRC Press), dilution chapter, examples 4 and 5: "
    "mix = output × area."
)
FLUKE_SOURCE = (
    "Our own rule, after the limit for a single nozzle, 10 % from the others: Mississippi State "
    "University Extension, Turf Tips 3-16-09 and 2-4-13. The middle run is the median."
)
STATED_SOURCE = "Stated by the person who asked, not measured."


def output_figures(part: Part, *, shown: Shown) -> Iterator[Figure]:
    """Derive the output of a tool, and how its runs vary.

    Parameters
    ----------
    part : Part
        The part. [-]
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
    calibration, output = part.sprayer.calibration, part.output
    if isinstance(calibration, MeasuredCourse):
        yield from course_figures(calibration, output, swath=part.sprayer.swath, shown=shown)
        return
    stated = Input("stated output", in_unit(calibration.output, shown.output))
    result = shown.output_of(output.l_per_m2)
    yield Figure("output", "Output, as stated", "stated output", (stated,), result, STATED_SOURCE)


def carrier_figure(part: Part, *, shown: Shown) -> Figure:
    """Derive the finished spray of a part.

    Parameters
    ----------
    part : Part
        The part. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Figure
        The derivation. [units shown]

    Raises
    ------
    Nothing
        It always has one.

    References
    ----------
    Each derivation names its own.
    """
    area = Input("treatable area", shown.area_of(part.area_m2))
    output = Input("output", shown.output_of(part.output.l_per_m2))
    return Figure(
        "carrier_volume",
        "Finished spray, products included",
        f"treatable area × output / {shown.per_area}",
        (area, output),
        shown.spray_of(part.carrier_l),
        FINISHED_SPRAY_SOURCE,
    )


def course_figures(
    course: MeasuredCourse, output: Output, *, swath: Quantity, shown: Shown
) -> Iterator[Figure]:
    """Derive the output of a measured course, how its runs vary, and its flukes.

    Parameters
    ----------
    course : MeasuredCourse
        The runs as they were measured. [-]
    output : Output
        What they came to. [L/m²]
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
    runs = tuple(
        Input(f"run {run.number}", in_unit(course.volumes_used[run.number - 1], shown.spray))
        for run in output.kept
    )
    yield _course(course, output, runs, swath=swath, shown=shown)
    yield _variation(output, runs, shown)
    yield from _flukes(course, output, shown)


def _course(
    course: MeasuredCourse,
    output: Output,
    runs: tuple[Input, ...],
    *,
    swath: Quantity,
    shown: Shown,
) -> Figure:
    length = Input("course length", in_unit(course.course_length, shown.length))
    mean = f"{grouped(runs)} / {len(runs)}"
    return Figure(
        "output",
        "Output over the measured course: mean of the runs that are kept",
        f"{shown.per_area} × {mean} / (course length × swath)",
        (*runs, length, Input("swath", in_unit(swath, shown.length))),
        shown.output_of(output.l_per_m2),
        COURSE_SOURCE,
    )


def _variation(output: Output, runs: tuple[Input, ...], shown: Shown) -> Figure:
    mean_l = sum(run.volume_l for run in output.kept) / len(runs)
    mean = Input("mean", shown.spray_of(mean_l))
    squares = " + ".join(f"({run.name} − mean)²" for run in runs)
    return Figure(
        "output.cv_percent",
        "Coefficient of variation of the runs that are kept",
        f"100 × sqrt(({squares}) / ({len(runs)} − 1)) / mean",
        (*runs, mean),
        Quantity(100 * (output.variation or 0.0), "%"),
        VARIATION_SOURCE,
    )


def _flukes(course: MeasuredCourse, output: Output, shown: Shown) -> Iterator[Figure]:
    volumes_l = [run.volume_l for run in output.runs]
    middle = Input("middle run", shown.spray_of(statistics.median(volumes_l)))
    for number, run in enumerate(output.flukes):
        name = f"run {run.number}"
        yield Figure(
            f"output.flukes[{number}].deviation_percent",
            f"How far run {run.number} is from the middle run",
            f"100 × ({name} / middle run − 1)",
            (Input(name, in_unit(course.volumes_used[run.number - 1], shown.spray)), middle),
            Quantity(100 * run.deviation, "%"),
            FLUKE_SOURCE,
        )
