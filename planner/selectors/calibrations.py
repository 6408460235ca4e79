"""What calibrations come to, which of them a plan goes by, and for how long."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.db.models import QuerySet

from planner.core.calibration import Calibration as Measured
from planner.core.calibration import Nozzle, Output, output_of
from planner.core.checks.calibration import calibration_findings, target_findings
from planner.core.findings import Findings
from planner.core.machine.fittings import fitting_findings
from planner.core.machine.set_up import Change, changes
from planner.core.request.calibration import calibration_of
from planner.core.request.fittings import fittings_of
from planner.core.request.set_up import made_of, set_up_of
from planner.core.shown import SHOWN, Units
from planner.core.workings.calibration import calibration_figures
from planner.models import Calibration, CalibrationRule, Fittings, Machine
from planner.selectors.ground_done import GroundDone, day_made, done_since
from properties.core.errors import Refused
from properties.core.units import Quantity
from properties.core.working import Figure
from properties.models import Person


def calibrations_of(person: Person) -> QuerySet[Calibration]:
    """List the calibrations of the machines of a person's firm."""
    made = Calibration.objects.filter(machine__firm=person.firm_id)
    return made.select_related("machine", "done_by")


def fittings_row(machine: Machine) -> Fittings:
    """Find what is fitted to a machine; a row that is not kept yet where nobody told."""
    return Fittings.objects.filter(machine=machine).select_related("worked_by").first() or Fittings(
        machine=machine
    )


def set_up_members(fittings: Fittings) -> dict[str, str]:
    """Write the present set-up of a machine as a plan request has it."""
    told = {
        "tips": fittings.tips,
        "pressure": fittings.pressure and fittings.pressure.to_the_last_digit,
        "pace": fittings.pace,
        "person": fittings.worked_by and fittings.worked_by.name,
    }
    return {name: value for name, value in told.items() if value}


def fitting_members(fittings: Fittings) -> dict[str, Any]:
    """Write what is fitted to a machine as a plan request has it."""
    hose = {"length": fittings.hose_length, "bore": fittings.hose_bore}
    told: dict[str, Any] = {
        "nozzles": fittings.nozzles,
        "nozzle_spacing": fittings.nozzle_spacing and fittings.nozzle_spacing.to_the_last_digit,
        "sides": fittings.sides,
        "pump": fittings.pump,
        "tip": _tip(fittings),
        "hose": {name: size.to_the_last_digit for name, size in hose.items() if size},
        "set_up": set_up_members(fittings),
    }
    return {name: value for name, value in told.items() if value}


def _tip(fittings: Fittings) -> dict[str, str]:
    told = {
        "size": fittings.tip_size,
        "droplets": fittings.droplets,
        "angle": fittings.fan_angle and fittings.fan_angle.to_the_last_digit,
        "height": fittings.boom_height and fittings.boom_height.to_the_last_digit,
    }
    return {name: value for name, value in told.items() if value}


def changed_since(calibration: Calibration, fittings: Fittings) -> list[Change]:
    """List what is not as it was when a calibration was made, so that it is void."""
    present = set_up_of(set_up_members(fittings))
    return [change for change in changes(set_up_of(calibration.set_up), present) if change.was]


def newest_calibration(machine: Machine, *, on: date | None = None) -> Calibration | None:
    """Find the calibration that a plan uses: the newest at the present swath and set-up.

    For work on a day that is past it is the newest of those that had been made by then; where
    there was none, the first after it, and the plan says that its day is later.
    """
    fittings = fittings_row(machine)
    made = Calibration.objects.filter(machine=machine, swath=machine.swath)
    rows = made.select_related("done_by")
    fitting = [row for row in rows if not changed_since(row, fittings)]
    by_then = (row for row in fitting if on is None or day_made(row) <= on)
    return next(by_then, fitting[-1] if fitting else None)


def calibration_for_plan(field: str, machine: Machine, *, on: date | None = None) -> Calibration:
    """Find the calibration that a plan uses. Refused, with what changed, if there is none."""
    found = newest_calibration(machine, on=on)
    if found is not None:
        return found
    last = Calibration.objects.filter(machine=machine, swath=machine.swath).first()
    if last is None:
        raise Refused(
            field,
            f"{machine} has no calibration at its present swath.",
            "Calibrate it with water first.",
        )
    parts = "; ".join(said_of(change) for change in changed_since(last, fittings_row(machine)))
    raise Refused(
        field,
        f"{machine} is not set up as it was calibrated. {parts}.",
        "Calibrate it again as it is now, or set it up as it was.",
    )


def said_of(change: Change) -> str:
    """Say what changed since a calibration."""
    return f"{change.part.capitalize()}: {change.was} then, {change.now} now"


@dataclass(frozen=True)
class Lasting:
    """For how long a calibration is good, by the machine's rule or the firm's."""

    days: int | None
    area: Quantity | None

    def last_day(self, done_on: date) -> date | None:
        """The last day it is good for."""
        return None if self.days is None else done_on + timedelta(days=self.days)

    def has_ended(self, calibration: Calibration, *, on: date) -> bool:
        """Whether a calibration is older, or more was done since, than it is good for."""
        last = self.last_day(day_made(calibration))
        since = None if self.area is None else done_since(calibration, until=on).area
        is_worn = self.area is not None and since is not None and since.si > self.area.si
        return is_worn or (last is not None and on > last)


def lasting_of(machine: Machine, fittings: Fittings) -> Lasting:
    """Find for how long calibrations of a machine are good."""
    rule = CalibrationRule.objects.filter(firm=machine.firm_id).first() or CalibrationRule()
    return Lasting(
        fittings.good_for_days or rule.good_for_days, fittings.good_for_area or rule.good_for_area
    )


def calibration_members(
    calibration: Calibration, fittings: Fittings, *, on: date
) -> dict[str, Any]:
    """Write a calibration as a plan request has it, for work on a day."""
    lasting = lasting_of(calibration.machine, fittings)
    made: dict[str, Any] = {"done_on": day_made(calibration).isoformat()}
    made |= lasting_members(lasting, lambda: done_since(calibration, until=on))
    if calibration.set_up:
        made["set_up"] = calibration.set_up
    return calibration.told | made


def lasting_members(lasting: Lasting, done: Callable[[], GroundDone]) -> dict[str, Any]:
    """Write for how long a calibration is good, and what was done since it was made."""
    told: dict[str, Any] = {}
    if lasting.days is not None:
        told["good_for"] = f"{lasting.days} day"
    if lasting.area is None:
        return told
    told["good_for_area"] = lasting.area.to_the_last_digit
    since = done()
    if since.area is not None:
        told["area_since"] = since.area.to_the_last_digit
        if since.untold:
            told["area_since_is_least"] = True
    return told


@dataclass(frozen=True)
class CalibrationSheet:
    """What a calibration comes to, how each nozzle does, and what is found about it."""

    output: Figure
    others: tuple[Figure, ...]
    each_nozzle: tuple[Figure, ...]
    nozzles: tuple[Nozzle, ...]
    warnings: tuple[str, ...]
    refusals: tuple[str, ...]


def calibration_sheet(calibration: Calibration, *, units: str) -> CalibrationSheet:
    """Work out the output of a calibration, with its working."""
    shown = SHOWN[Units(units)]
    measured = calibration_of(calibration.told)
    output = output_of(measured, swath_m=calibration.swath.si)
    first, *others = calibration_figures(measured, output, swath=calibration.swath, shown=shown)
    found = _findings(calibration, measured, output, units)
    return CalibrationSheet(
        output=first,
        others=tuple(each for each in others if not _is_of_nozzle(each)),
        each_nozzle=tuple(filter(_is_of_nozzle, others)),
        nozzles=output.nozzles,
        warnings=tuple(finding.message for finding in found.warnings),
        refusals=tuple(finding.message for finding in found.refusals),
    )


def _is_of_nozzle(figure: Figure) -> bool:
    return figure.key.startswith("output.nozzles")


def _findings(calibration: Calibration, measured: Measured, output: Output, units: str) -> Findings:
    shown, machine = SHOWN[Units(units)], calibration.machine
    fitted = fittings_of(fitting_members(fittings_row(machine)))
    target = made_of(calibration.told).target
    found = calibration_findings(output, shown=shown)
    found += target_findings(output, target, shown=shown)
    return found + fitting_findings(
        fitted,
        measured,
        swath=calibration.swath,
        speed=machine.speed,
        shown=shown,
        pressure=set_up_of(calibration.set_up).pressure,
    )


def quantities_told(told: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """List what was typed of a calibration, name by name, for a page."""
    for name, value in told.items():
        if name != "method":
            each = map(_said, value) if isinstance(value, list) else [str(value)]
            yield name.replace("_", " "), ", ".join(each)


def _said(item: str | Mapping[str, str]) -> str:
    """One of a list: a quantity, or a speed on its slope."""
    return item if isinstance(item, str) else f"{item['speed']} on {item['slope']}"
