"""What is found about a calibration: runs that stand apart, runs that vary, no runs at all."""

import math

from planner.core.calibration import (
    RUNS_NEEDED,
    Nozzle,
    Output,
    Reading,
    Run,
    WayOfMeasuring,
    is_far,
)
from planner.core.findings import Finding, Findings
from planner.core.machine.what_if import MOST_PRESSURE_SHARE
from planner.core.shown import Shown, listed, said
from properties.core.units import Quantity

UNEVEN_SHARE = 0.05
TARGET_SHARE = 0.05
_SAME_SHARE = 1e-9
USUAL_OUTPUT = (Quantity(0.1, "gal/1000 sq ft"), Quantity(10, "gal/1000 sq ft"))


def calibration_findings(output: Output, *, shown: Shown) -> Findings:
    """Say what the runs, or their absence, mean for trusting the output.

    Parameters
    ----------
    output : Output
        The output with its runs. [L/m²]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        Warnings, and a refusal where the runs do not carry an output. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    Three runs: NC State Extension, The Calibration of Turfgrass Boom Sprayers
    and Spreaders. Usual outputs of turf machines: common practice.
    """
    found = _unusual(output, shown)
    if output.is_stated:
        return found + Findings((_stated(output, shown),))
    found += _nozzles(output, shown) + _pace(output)
    if output.is_scattered:
        return found + Findings(refusals=(_scattered(output),))
    return found + _flukes(output, shown) + _uneven(output)


def target_findings(output: Output, target: Quantity | None, *, shown: Shown) -> Findings:
    """Say whether an output is the one that was wanted, and what would bring it there.

    Parameters
    ----------
    output : Output
        The output. [L/m²]
    target : Quantity or None
        The one that was wanted, None where nobody told. [volume per area]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        A refusal where it is more than 5 % off. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    Pesticide Environmental Stewardship (NC State), Spray Gun calibration page: within 5 %.
    The ways out: output goes as one over the speed and with the root of the pressure.
    """
    if target is None:
        return Findings()
    ratio = output.l_per_m2 / target.si
    if abs(ratio - 1) <= TARGET_SHARE + _SAME_SHARE:
        return Findings()
    faster, pressure = ratio - 1, (1 / ratio) ** 2 - 1
    ways = f"Go {abs(faster):.0%} {'faster' if faster > 0 else 'slower'}"
    if abs(pressure) <= MOST_PRESSURE_SHARE:
        ways += f" or set the pressure {abs(pressure):.0%} {'lower' if pressure < 0 else 'higher'}"
    message = (
        f"The output is {said(shown.output_of(output.l_per_m2))}, {abs(ratio - 1):.1%} "
        f"{'more' if ratio > 1 else 'less'} than the {said(target)} that is wanted; 5 % are "
        f"allowed. {ways}, or change the tip, and measure again."
    )
    return Findings(refusals=(Finding("calibration_off_target", message),))


def _unusual(output: Output, shown: Shown) -> Findings:
    lowest, highest = USUAL_OUTPUT
    if lowest.si <= output.l_per_m2 <= highest.si:
        return Findings()
    message = (
        f"An output of {said(shown.output_of(output.l_per_m2))} is unusual for turf "
        f"({said(shown.output_of(lowest.si))} to {said(shown.output_of(highest.si))} is usual). "
        "Check the units and measure again."
    )
    return Findings((Finding("output_unusual", message),))


def _stated(output: Output, shown: Shown) -> Finding:
    message = (
        f"The output {said(shown.output_of(output.l_per_m2))} was stated, not measured. "
        "Measure it over a course with three runs before you mix."
    )
    return Finding("output_stated", message)


def _scattered(output: Output) -> Finding:
    far = listed([f"run {run.number}" for run in output.runs if is_far(run.deviation)])
    message = (
        f"The runs are too far apart to tell which is wrong: {far} differ from the middle one "
        "by more than 10 %. Check the pressure, the speed and the nozzles, then measure again."
    )
    return Finding("calibration_scattered", message)


def _nozzles(output: Output, shown: Shown) -> Findings:
    """Refuse a boom with a nozzle that is off, even where the mean is right."""
    off = [nozzle for nozzle in output.nozzles if nozzle.is_off]
    if not off:
        return Findings()
    message = (
        f"{'; '.join(_off(nozzle, shown) for nozzle in off)}. A nozzle may be 10 % from the mean "
        "of all at most. Put it right and catch all of them again, for the mean moves too."
    )
    return Findings(refusals=(Finding("nozzles_uneven", message),))


def _off(nozzle: Nozzle, shown: Shown) -> str:
    is_more = nozzle.deviation > 0
    return (
        f"Nozzle {nozzle.number} gives {said(shown.product_of(nozzle.catch_l))}, "
        f"{abs(nozzle.deviation):.1%} {'more' if is_more else 'less'} than the mean: "
        f"{'swap the tip, it is worn or not of the set' if is_more else 'clean tip and screen'}"
    )


def _pace(output: Output) -> Findings:
    if output.way is not WayOfMeasuring.TIMED_CATCH or output.runs:
        return Findings()
    message = (
        "The speed was read, not timed. Time three runs over a course on turf, with the tank half "
        "full: a tenth too fast is a tenth too little spray."
    )
    return Findings((Finding("speed_not_timed", message),))


def _read(run: Run, reading: Reading, shown: Shown) -> str:
    if reading is Reading.TIME:
        return f"took {said(Quantity(run.read, 's'))}"
    return f"used {said(shown.spray_of(run.read))}"


def _flukes(output: Output, shown: Shown) -> Findings:
    warnings = tuple(
        Finding(
            "calibration_fluke",
            f"Run {run.number} {_read(run, output.reading, shown)}, {abs(run.deviation):.1%} "
            f"{'more' if run.deviation > 0 else 'less'} than the middle run. It is left out of "
            "the output. Find out what was different in that run.",
        )
        for run in output.flukes
    )
    if not warnings or len(output.kept) >= RUNS_NEEDED:
        return Findings(warnings)
    message = (
        f"Only {len(output.kept)} runs are left after leaving out "
        f"{listed([f'run {run.number}' for run in output.flukes])}. "
        "Make another run, so that three agree, and plan again."
    )
    return Findings(warnings, (Finding("calibration_needs_another_run", message),))


def _uneven(output: Output) -> Findings:
    variation = output.variation or 0.0
    if math.isclose(variation, UNEVEN_SHARE) or variation < UNEVEN_SHARE:
        return Findings()
    message = (
        f"The runs vary by {variation:.1%} (coefficient of variation), more than 5 %. "
        "Keep the same speed and pressure in every run, and measure again."
    )
    return Findings((Finding("calibration_uneven", message),))
