"""Reading what only a spreader has: its catch tests, its hopper, its deflector, its passes."""

from planner.core.machine.machines import SPREADER_KINDS, MachineKind
from planner.core.machine.spreaders import (
    USUAL_TIMES_OVER,
    CatchRun,
    CatchTests,
    Spreading,
    StatedSpread,
)
from planner.core.request.reader import Believable, Members, open_object
from planner.core.request.set_up import KNOWN_OF_MADE
from planner.core.request.tanks import KNOWN as TANKS
from properties.core.units import Dimension, Quantity

KNOWN = ("hopper", "deflector", "times_over")
KNOWN_OF_CALIBRATION = ("method", "product", "area", "course_length", "runs", *KNOWN_OF_MADE)
KNOWN_OF_RUN = ("setting", "used", "area")
METHODS = ("weigh_back",)
TIMES = (1, 2)
MOST_RUNS = 100
HIGHEST_SETTING = 1000

RUNS_ADVICE = (
    "Fill in a weighed amount, drive over the test area, weigh what is left, and list what each "
    "run used (1 to 100 runs)."
)

HOPPERS = Believable(Quantity(0.1, "kg"), Quantity(5_000, "kg"))
WEIGHTS = Believable(Quantity(1, "g"), Quantity(5_000, "kg"))
TEST_AREAS = Believable(Quantity(1, "m2"), Quantity(10, "ha"))
COURSES = Believable(Quantity(1, "m"), Quantity(10, "km"))
SPREADS = Believable(Quantity(0.01, "g/m2"), Quantity(10, "kg/m2"))


def is_spreader(kind: str | None) -> bool:
    """Tell whether a kind of machine puts granules down.

    Parameters
    ----------
    kind : str or None
        The kind as it was read. [-]

    Returns
    -------
    bool
        Whether it is a spreader. [-]

    Raises
    ------
    Nothing
        An unknown kind is none.

    References
    ----------
    Our own list.
    """
    return kind in SPREADER_KINDS


def refuse_spreader_members(machine: Members) -> None:
    """Note what only a spreader has, where the machine sprays.

    Parameters
    ----------
    machine : Members
        The members of a sprayer. [-]

    Returns
    -------
    None
        Nothing. [-]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    for name in filter(machine.has, KNOWN):
        machine.faults.add(
            machine.path_of(name),
            "A sprayer has none of this.",
            f"Leave it out, or write one of these kinds: {', '.join(SPREADER_KINDS)}.",
        )


def read_spreading(machine: Members, *, kind: str | None) -> Spreading | None:
    """Read what only a spreader has.

    Parameters
    ----------
    machine : Members
        The members of a spreader. [-]
    kind : str or None
        What kind it is. [-]

    Returns
    -------
    Spreading or None
        How it puts granules down, or None where there are faults. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    for name in filter(machine.has, TANKS):
        remedy = 'Leave it out: write what the hopper holds, for example "hopper": "20 kg".'
        machine.faults.add(machine.path_of(name), "A spreader has no tank.", remedy)
    if kind == MachineKind.DROP_SPREADER and machine.has("deflector"):
        remedy = "Leave it out: what is kept is the distance with a deflector."
        machine.faults.add(
            machine.path_of("deflector"), "A drop spreader throws nothing aside.", remedy
        )
    hopper = machine.quantity("hopper", Dimension.MASS, believable=HOPPERS)
    deflector = machine.flag("deflector")
    times_over = _times_over(machine)
    calibration = _calibration(machine)
    if calibration is None:
        return None
    return Spreading(calibration, times_over, deflector, hopper)


def _times_over(machine: Members) -> int:
    value = machine.values.get("times_over", USUAL_TIMES_OVER)
    if isinstance(value, int) and not isinstance(value, bool) and value in TIMES:
        return value
    remedy = "Write 1, or 2 for two passes at right angles, each at half the rate."
    machine.faults.add(
        machine.path_of("times_over"), "This is not how often a spreader goes over.", remedy
    )
    return USUAL_TIMES_OVER


def _calibration(machine: Members) -> CatchTests | StatedSpread | None:
    if machine.has("calibration") and machine.has("output"):
        machine.faults.add(
            machine.path,
            "Both a calibration and an output are given.",
            "Keep the calibration, or state the output if nothing was measured.",
        )
    if not (machine.has("calibration") or machine.has("output")):
        machine.faults.add(
            machine.path_of("calibration"),
            "Nothing says how much the spreader puts down.",
            "Give its catch tests, or the output of one pass such as 10 g/m2.",
        )
    tests = _weigh_back(machine)
    stated = machine.quantity("output", Dimension.MASS_PER_AREA, believable=SPREADS)
    return tests or (None if stated is None else StatedSpread(stated))


def _weigh_back(machine: Members) -> CatchTests | None:
    inner = machine.within("calibration", KNOWN_OF_CALIBRATION)
    if inner is None:
        return None
    inner.want("method", f"Write one of: {', '.join(METHODS)}.")
    inner.choice("method", METHODS)
    product = inner.name("product")
    area = inner.quantity("area", Dimension.AREA, believable=TEST_AREAS)
    length = inner.quantity("course_length", Dimension.LENGTH, believable=COURSES)
    if inner.has("area") and inner.has("course_length"):
        remedy = "Keep one of them: the area, or the length of a course in one pass."
        inner.faults.add(inner.path, "The ground of a run is given twice.", remedy)
    inner.want("runs", RUNS_ADVICE)
    told = inner.has("area") or inner.has("course_length")
    read = [
        _run(inner, path, item, has_ground=told)
        for path, item in inner.items("runs", most=MOST_RUNS, advice=RUNS_ADVICE)
    ]
    runs = tuple(run for run in read if run is not None)
    return CatchTests(runs, product, area, length) if runs else None


def _run(tests: Members, path: str, item: object, *, has_ground: bool) -> CatchRun | None:
    run = open_object(tests.faults, path, item, KNOWN_OF_RUN)
    if run is None:
        return None
    run.want("setting", "Write the number on the dial.")
    run.want("used", "Write what the run used: what was filled in less what was left.")
    used = run.quantity("used", Dimension.MASS, believable=WEIGHTS)
    if not has_ground:
        run.want("area", "Write the ground of the run, for example 100 m2 or 1000 sq ft.")
    area = run.quantity("area", Dimension.AREA, believable=TEST_AREAS)
    setting = _setting(run)
    return None if setting is None or used is None else CatchRun(setting, used, area)


def _setting(run: Members) -> float | None:
    value = run.values.get("setting")
    if not run.has("setting"):
        return None
    if (
        isinstance(value, int | float)
        and not isinstance(value, bool)
        and 0 <= value <= HIGHEST_SETTING
    ):
        return float(value)
    remedy = "Write the number on the dial; count letters, so that A is 1."
    run.faults.add(run.path_of("setting"), "This is not a setting.", remedy)
    return None
