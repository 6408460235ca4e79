"""What a calibration belongs to: the set-up it was made with, its day, and how long it holds."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, fields
from datetime import date

from planner.core.findings import Finding, Findings
from planner.core.shown import day_said, listed, said
from properties.core.units import Quantity

DAY_S = 86_400.0
_SAME_PRESSURE = 1e-6


@dataclass(frozen=True)
class SetUp:
    """How a machine is set up; each part is None where nobody told.

    ``pace`` is how fast somebody walks or drives, in their words.
    """

    tips: str | None = None
    pressure: Quantity | None = None
    pace: str | None = None
    person: str | None = None


SET_UP_UNTOLD = SetUp()


@dataclass(frozen=True)
class Made:
    """When a calibration was made, with which set-up, and for how long it is good.

    ``area_since`` is the ground done with it since then, at least that where
    ``area_since_is_least``, and ``target`` the output that was wanted.
    """

    on: date | None = None
    good_for: Quantity | None = None
    good_for_area: Quantity | None = None
    area_since: Quantity | None = None
    set_up: SetUp = SET_UP_UNTOLD
    target: Quantity | None = None
    area_since_is_least: bool = False


MADE_UNTOLD = Made()


@dataclass(frozen=True)
class Change:
    """One part of a set-up that is not what it was; None where nobody says what it was."""

    part: str
    was: str | None
    now: str


def changes(made_with: SetUp, present: SetUp) -> Iterator[Change]:
    """Find what has changed since a calibration, or is not known to be the same.

    Parameters
    ----------
    made_with : SetUp
        The set-up of the calibration. [-]
    present : SetUp
        The set-up of the machine as it is. [-]

    Returns
    -------
    Iterator[Change]
        Every part that the machine tells and the calibration has otherwise or not. [-]

    Raises
    ------
    Nothing
        Any two can be compared.

    References
    ----------
    NC State Extension, The Calibration of Turfgrass Boom Sprayers and Spreaders: calibrate
    again when tips, pressure or speed change.
    """
    for part in fields(SetUp):
        was, now = getattr(made_with, part.name), getattr(present, part.name)
        if now is not None and not _same(was, now):
            yield Change(part.name, None if was is None else str(was), str(now))


def _same(was: Quantity | str | None, now: Quantity | str) -> bool:
    if isinstance(was, Quantity) and isinstance(now, Quantity):
        return math.isclose(was.si, now.si, rel_tol=_SAME_PRESSURE)
    if isinstance(was, str) and isinstance(now, str):
        return was.casefold() == now.casefold()
    return False


def validity_findings(made: Made, present: SetUp, *, on: date | None) -> Findings:
    """Say whether a calibration still holds for a machine on the day of the work.

    Parameters
    ----------
    made : Made
        When and with which set-up it was made. [-]
    present : SetUp
        The set-up of the machine as it is. [-]
    on : date or None
        The day of the work, None where nobody told. [-]

    Returns
    -------
    Findings
        Refusals where it does not hold, warnings where nobody can tell. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    Our own rule; for how long is the firm's to say.
    """
    return _of_set_up(made.set_up, present) + _of_age(made, on) + _of_area(made)


def _of_set_up(made_with: SetUp, present: SetUp) -> Findings:
    found = list(changes(made_with, present))
    changed = [f"{each.part} ({each.was} then, {each.now} now)" for each in found if each.was]
    untold = [f"{each.part} ({each.now} now)" for each in found if not each.was]
    refusals: tuple[Finding, ...] = ()
    warnings: tuple[Finding, ...] = ()
    if changed:
        message = (
            f"The calibration was made with another set-up: {listed(changed)}. It is void. "
            "Calibrate again as the machine is now, or set it up as it was."
        )
        refusals = (Finding("calibration_void", message),)
    if untold:
        message = (
            f"Nobody says whether the calibration was made with the present {listed(untold)}. "
            "Write the set-up down with the next calibration."
        )
        warnings = (Finding("calibration_set_up_unknown", message),)
    return Findings(warnings, refusals)


def _of_age(made: Made, on: date | None) -> Findings:
    if made.on is not None and on is not None and on < made.on:
        message = (
            f"The calibration of {day_said(made.on)} is later than {day_said(on)}, the day of "
            "the work: one of the two is wrong. Look when it was made."
        )
        return Findings((Finding("calibration_age_unknown", message),))
    if made.good_for is None:
        return Findings()
    allowed = f"{made.good_for.to('day').value:g} days"
    if made.on is None or on is None:
        message = (
            f"Nobody can tell whether the calibration is older than {allowed}, for its day or the "
            "day of the work is not told. Look when it was made."
        )
        return Findings((Finding("calibration_age_unknown", message),))
    days = (on - made.on).days
    if days * DAY_S <= made.good_for.si:
        return Findings()
    message = (
        f"The calibration of {day_said(made.on)} is {days} days old, and {allowed} are allowed. "
        "Calibrate again; three runs are enough."
    )
    return Findings(refusals=(Finding("calibration_expired", message),))


def _of_area(made: Made) -> Findings:
    if made.good_for_area is None:
        return Findings()
    allowed = said(made.good_for_area)
    if made.area_since is None:
        message = (
            f"Nobody says how much ground was done since the calibration, and it is good for "
            f"{allowed}. Write it down with the machine."
        )
        return Findings((Finding("calibration_area_unknown", message),))
    if made.area_since.si <= made.good_for_area.si:
        return Findings(tuple(_at_least(made, made.area_since)))
    message = (
        f"{said(made.area_since)} of ground were done since the calibration, and it is good "
        f"for {allowed}. Tips wear: calibrate again with water."
    )
    return Findings(refusals=(Finding("calibration_expired", message),))


def _at_least(made: Made, known: Quantity) -> Iterator[Finding]:
    if made.area_since_is_least:
        message = (
            f"{said(known)} of ground were done since the calibration at least, and it is good for "
            f"{said(made.good_for_area or known)}: some of what was done does not say with which "
            "machine. Tell it, or calibrate again."
        )
        yield Finding("calibration_area_unknown", message)
