"""The passes of a machine as JSON."""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import LineString

from planner.core.amounts.parts import Part
from planner.core.amounts.passes import Drive
from planner.core.machine.machines import Driving
from planner.core.report.quantities import Json, maybe, quantity
from planner.core.shown import TIME_UNIT, Shown, in_unit
from properties.core.frame import Frame
from properties.core.passes import Passes
from properties.core.units import Quantity, quantity_of_si

WAYS_NOTE = (
    "Ways between passes are drawn straight and may cross an obstacle or a bed: there the machine "
    "goes round, and the way is longer."
)
MAP_NOTE = "Lengths and areas are those of the map, without slope."
TWICE_NOTE = (
    "Ground under two passes is sprayed twice, and the finished spray does not include that: shut "
    "the part of the boom that overlaps."
)
TURNS_NOTE = "Nobody says how long a turn takes, so the time is that of driving alone."


def passes_as_json(part: Part, frame: Frame, shown: Shown) -> Json:
    """Write the passes of a tool, where it is driven in passes.

    Parameters
    ----------
    part : Part
        What the tool sprays. [m, m² and s]
    frame : Frame
        The plane that it lies in. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The member ``passes``; where they were not planned it is null, and
        ``passes_unknown`` says why. [units shown]

    Raises
    ------
    Nothing
        Any passes can be written.

    References
    ----------
    Our own format, docs/plan-request.md; RFC 7946 for the lines.
    """
    drive = part.drive
    if drive is None:
        return {}
    passes = drive.passes
    if passes is None:
        return {"passes": None, "passes_unknown": drive.why_not}
    driving = part.sprayer.driving
    return {
        "passes": {
            "heading": _heading(passes),
            "swath": quantity(in_unit(part.sprayer.swath, shown.length)),
            "headlands": driving.headlands,
            "rings": _lines(passes.headlands, frame),
            "lines": _lines(passes.lanes, frame),
            "passes": passes.passes,
            "turns": passes.turns,
            "driven_length": quantity(quantity_of_si(passes.driven_m, shown.length)),
            **_areas(passes, shown),
            "work_time": _time(drive),
            **_on_slopes(drive, shown),
            **_sides_shut(part, drive, shown),
            "note": _note(driving),
        }
    }


def _heading(passes: Passes) -> Json | None:
    """The heading of the lanes; rounds alone have none."""
    return quantity(Quantity(passes.heading_deg, "deg")) if passes.lanes else None


def _areas(passes: Passes, shown: Shown) -> Json:
    areas_m2 = {
        "ground_area": passes.area_m2,
        "double_sprayed_area": passes.double_m2,
        "missed_area": passes.missed_m2,
        "outside_area": passes.outside_m2,
    }
    shares = {
        "double_sprayed_share": passes.double_share,
        "missed_share": passes.missed_share,
    }
    return {
        **{name: quantity(shown.area_of(area_m2)) for name, area_m2 in areas_m2.items()},
        **{name: quantity(Quantity(100 * share, "%")) for name, share in shares.items()},
    }


def _time(drive: Drive) -> Json | None:
    return maybe(None if drive.work_s is None else quantity_of_si(drive.work_s, TIME_UNIT))


def _sides_shut(part: Part, drive: Drive, shown: Shown) -> Json:
    """What is left of spray twice and outside, where each side is open only over new ground."""
    shut, sides = drive.shut, part.sprayer.fittings.sides
    if shut is None:
        return {}
    return {
        "sides_shut": {
            "sides": sides,
            "double_sprayed_area": quantity(shown.area_of(shut.double_m2)),
            "double_sprayed_share": quantity(Quantity(100 * shut.double_share, "%")),
            "outside_area": quantity(shown.area_of(shut.outside_m2)),
        }
    }


def _on_slopes(drive: Drive, shown: Shown) -> Json:
    """The way on slopes, where it is driven at a speed of its own."""
    if drive.work_s is None or not drive.on_slopes:
        return {}
    return {
        "on_slopes": [
            {
                "length": quantity(quantity_of_si(way.way_m, shown.length)),
                "speed": quantity(quantity_of_si(way.there.m_per_s, way.there.steeper.speed.unit)),
            }
            for way in drive.on_slopes
        ]
    }


def _note(driving: Driving) -> str:
    notes = [WAYS_NOTE, MAP_NOTE, TWICE_NOTE]
    if driving.speed is not None and driving.turn_time is None:
        notes.append(TURNS_NOTE)
    return " ".join(notes)


def _lines(lines: Sequence[LineString], frame: Frame) -> Json:
    turned = shapely.transform(np.array(lines, dtype=object), frame.lonlat)
    coordinates = [shapely.get_coordinates(line).tolist() for line in turned]
    return {"type": "MultiLineString", "coordinates": coordinates}
