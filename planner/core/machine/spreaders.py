"""What a plan needs of a spreader beside its swath: its catch tests, its hopper, its passes.

A catch test by weighing back: fill in, drive over a known area, weigh what is left. What is
gone went on that area. Weights in kg, areas in m², output in kg/m² for one pass.
"""

import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from planner.core.calibration import Output, judge_runs, variation_of
from properties.core.units import Quantity

#: Twice over the ground at right angles, each time at half the rate.
USUAL_TIMES_OVER = 2


@dataclass(frozen=True)
class CatchRun:
    """One run at one setting of the dial: what it used, and its ground if it has its own."""

    setting: float
    used: Quantity
    area: Quantity | None = None


@dataclass(frozen=True)
class CatchTests:
    """Catch tests of one product; the last setting is the one that stands.

    The ground of a run is its own, else ``area``, or ``course_length`` times the swath.
    """

    runs: tuple[CatchRun, ...]
    product: str | None = None
    area: Quantity | None = None
    course_length: Quantity | None = None

    def ground_m2(self, run: CatchRun, *, swath_m: float) -> float:
        """The ground of a run."""
        area = run.area or self.area
        if area is not None:
            return area.si
        return 0.0 if self.course_length is None else self.course_length.si * swath_m


@dataclass(frozen=True)
class StatedSpread:
    """An output of one pass that somebody states without showing a measurement."""

    rate: Quantity


@dataclass(frozen=True)
class Spreading:
    """How a spreader puts granules down.

    ``deflector`` tells whether one is fitted on the side of water. ``hopper`` is the weight
    it holds, None where nobody knows.
    """

    calibration: CatchTests | StatedSpread
    times_over: int = USUAL_TIMES_OVER
    deflector: bool = False
    hopper: Quantity | None = None


@dataclass(frozen=True)
class DryRun:
    """One catch test: its setting and what it put down in one pass."""

    number: int
    setting: float
    kg_per_m2: float
    kept: bool = True


@dataclass(frozen=True)
class SpreadOutput:
    """What one pass puts down, and every catch test behind it; without tests it was stated.

    ``at_setting`` has the judged runs of the setting that stands.
    """

    kg_per_m2: float
    runs: tuple[DryRun, ...] = ()
    at_setting: Output | None = None

    @property
    def setting(self) -> float | None:
        """The setting that stands; None where the output was stated."""
        return self.runs[-1].setting if self.runs else None

    @property
    def here(self) -> tuple[DryRun, ...]:
        """The runs at the setting that stands."""
        return tuple(run for run in self.runs if run.setting == self.setting)

    @property
    def kept(self) -> tuple[DryRun, ...]:
        """The runs that the output is the mean of."""
        return tuple(run for run in self.here if run.kept)


def spread_output_of(calibration: CatchTests | StatedSpread, *, swath_m: float) -> SpreadOutput:
    """Work out what one pass of a spreader puts down at the setting that stands.

    Parameters
    ----------
    calibration : CatchTests | StatedSpread
        The catch tests, or an output that was only stated. [-]
    swath_m : float
        Effective width of one pass, > 0. [m]

    Returns
    -------
    SpreadOutput
        The output with the tests behind it. [kg/m²]

    Raises
    ------
    Nothing
        The tests were checked at the door.

    References
    ----------
    UMass Extension Turf Program, Rotary Spreader Calibration Procedures: rate = weight
    used / area. Runs far from the others are judged by ``judge_runs``.
    """
    if isinstance(calibration, StatedSpread):
        return SpreadOutput(calibration.rate.si)
    setting = calibration.runs[-1].setting
    rates = [run.used.si / calibration.ground_m2(run, swath_m=swath_m) for run in calibration.runs]
    at_setting = [
        rate for rate, run in zip(rates, calibration.runs, strict=True) if run.setting == setting
    ]
    judged = judge_runs(at_setting)
    verdicts = iter(judged)
    runs = tuple(
        DryRun(number, run.setting, rate, kept=run.setting != setting or next(verdicts).kept)
        for number, (run, rate) in enumerate(zip(calibration.runs, rates, strict=True), start=1)
    )
    kept = [rate for rate, run in zip(at_setting, judged, strict=True) if run.kept]
    variation = variation_of(kept) if len(kept) > 1 else None
    return SpreadOutput(statistics.fmean(kept), runs, Output(0.0, judged, variation))


@dataclass(frozen=True)
class DialSetting:
    """One setting of the dial with the mean of its catch tests."""

    setting: float
    kg_per_m2: float
    runs: int


def settings_table(runs: Sequence[DryRun]) -> tuple[DialSetting, ...]:
    """Put catch tests together by setting, the lowest first.

    Parameters
    ----------
    runs : Sequence[DryRun]
        Catch tests of one machine with one product. [kg/m²]

    Returns
    -------
    tuple[DialSetting, ...]
        Each setting with the mean of the tests that are kept. [kg/m²]

    Raises
    ------
    Nothing
        Any tests can be put together.

    References
    ----------
    Common practice: a firm's own table, for each machine and each product.
    """
    by_setting: dict[float, list[float]] = {}
    for run in runs:
        if run.kept:
            by_setting.setdefault(run.setting, []).append(run.kg_per_m2)
    return tuple(
        DialSetting(setting, statistics.fmean(rates), len(rates))
        for setting, rates in sorted(by_setting.items())
    )


def next_setting(table: Sequence[DialSetting], *, wanted: float) -> float | None:
    """Suggest a setting between two that were tested.

    Parameters
    ----------
    table : Sequence[DialSetting]
        The settings that were tested, the lowest first. [kg/m²]
    wanted : float
        What one pass should put down, > 0. [kg/m²]

    Returns
    -------
    float or None
        The setting on the line between the two tests either side; None where no two lie
        either side, for nobody has tested beyond. [of the dial]

    Raises
    ------
    Nothing
        Any table can be looked up.

    References
    ----------
    Our own rule: linear between own tests, never beyond them.
    """
    for lower, upper in pairwise(table):
        low, high = lower.kg_per_m2, upper.kg_per_m2
        if min(low, high) <= wanted <= max(low, high) and low != high:
            share = (wanted - low) / (high - low)
            return lower.setting + share * (upper.setting - lower.setting)
    return None
