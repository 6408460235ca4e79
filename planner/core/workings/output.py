"""How the output and the finished spray of a plan came about."""

import statistics
from collections.abc import Iterator

from planner.core.calibration import MeasuredCourse
from planner.core.planned import Planned
from planner.core.shown import in_unit
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


def output_figures(planned: Planned) -> Iterator[Figure]:
    """Derive the output, how its runs vary, and the finished spray.

    Parameters
    ----------
    planned : Planned
        The figures. [-]

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
    calibration = planned.request.machine.calibration
    if isinstance(calibration, MeasuredCourse):
        runs = _runs(planned, calibration)
        yield _course(planned, calibration, runs)
        yield _variation(planned, runs)
        yield from _flukes(planned, calibration)
    else:
        stated = Input("stated output", in_unit(calibration.output, planned.shown.output))
        result = planned.shown.output_of(planned.output.l_per_m2)
        yield Figure(
            "output", "Output, as stated", "stated output", (stated,), result, STATED_SOURCE
        )
    yield _carrier(planned)


def _runs(planned: Planned, course: MeasuredCourse) -> tuple[Input, ...]:
    return tuple(
        Input(
            f"run {run.number}",
            in_unit(course.volumes_used[run.number - 1], planned.shown.spray),
        )
        for run in planned.output.kept
    )


def _course(planned: Planned, course: MeasuredCourse, runs: tuple[Input, ...]) -> Figure:
    shown = planned.shown
    length = Input("course length", in_unit(course.course_length, shown.length))
    swath = Input("swath", in_unit(planned.request.machine.swath, shown.length))
    mean = f"{grouped(runs)} / {len(runs)}"
    return Figure(
        "output",
        "Output over the measured course: mean of the runs that are kept",
        f"{shown.per_area} × {mean} / (course length × swath)",
        (*runs, length, swath),
        shown.output_of(planned.output.l_per_m2),
        COURSE_SOURCE,
    )


def _variation(planned: Planned, runs: tuple[Input, ...]) -> Figure:
    mean_l = sum(run.volume_l for run in planned.output.kept) / len(runs)
    mean = Input("mean", planned.shown.spray_of(mean_l))
    squares = " + ".join(f"({run.name} − mean)²" for run in runs)
    return Figure(
        "output.cv_percent",
        "Coefficient of variation of the runs that are kept",
        f"100 × sqrt(({squares}) / ({len(runs)} − 1)) / mean",
        (*runs, mean),
        Quantity(100 * (planned.output.variation or 0.0), "%"),
        VARIATION_SOURCE,
    )


def _flukes(planned: Planned, course: MeasuredCourse) -> Iterator[Figure]:
    unit = planned.shown.spray
    volumes_l = [run.volume_l for run in planned.output.runs]
    middle = Input("middle run", planned.shown.spray_of(statistics.median(volumes_l)))
    for number, run in enumerate(planned.output.flukes):
        name = f"run {run.number}"
        yield Figure(
            f"output.flukes[{number}].deviation_percent",
            f"How far run {run.number} is from the middle run",
            f"100 × ({name} / middle run − 1)",
            (Input(name, in_unit(course.volumes_used[run.number - 1], unit)), middle),
            Quantity(100 * run.deviation, "%"),
            FLUKE_SOURCE,
        )


def _carrier(planned: Planned) -> Figure:
    shown = planned.shown
    area = Input("treatable area", shown.area_of(planned.ground.treatment.treatable_area_m2))
    output = Input("output", shown.output_of(planned.output.l_per_m2))
    return Figure(
        "carrier_volume",
        "Finished spray, products included",
        f"treatable area × output / {shown.per_area}",
        (area, output),
        shown.spray_of(planned.carrier_l),
        FINISHED_SPRAY_SOURCE,
    )
