"""The programme of the demo, the temperatures of its yard, and the jobs of a season."""

from typing import Any

from planner.management.scenario.scene import FOLDER
from planner.models import Programme, Round, Station
from planner.selectors.equipment import machines_of
from planner.selectors.products import mixes_of
from planner.selectors.programmes import programmes_of
from planner.selectors.temperatures import stations_of
from planner.services.jobs import make_jobs
from planner.services.programmes import keep_programme
from planner.services.temperatures import keep_station, read_table
from properties.core.units import parse_quantity
from properties.models import Person
from properties.selectors.places import properties_of

Json = dict[str, Any]

_QUANTITIES = ("soil_at", "base", "cut_off", "degree_days_from", "degree_days_to")


def write_programmes(written: Json, owner: Person) -> None:
    """Put the programmes together."""
    present = set(programmes_of(owner).values_list("name", flat=True))
    for facts in written["programmes"]:
        if facts["name"] not in present:
            programme = Programme(
                firm=owner.firm,
                name=facts["name"],
                note=facts["note"],
                turfgrasses=facts["turfgrasses"],
            )
            keep_programme(programme, rounds=[_round(told, owner) for told in facts["rounds"]])


def _round(told: Json, owner: Person) -> Round:
    rows = {
        "mix": mixes_of(owner).get(name=told["mix"]),
        "machine": machines_of(owner).get(name=told["machine"]),
    }
    if "hand_tool" in told:
        rows["hand_tool"] = machines_of(owner).get(name=told["hand_tool"])
    read = {name: parse_quantity(told[name]) for name in _QUANTITIES if name in told}
    words = {name: value for name, value in told.items() if name not in rows | read}
    return Round(**words, **rows, **read)


def write_temperatures(written: Json, owner: Person) -> None:
    """Enter what was read in the yard: an invented year, with a gap in November."""
    facts = written["station"]
    if stations_of(owner).filter(name=facts["name"]).exists():
        return
    station = keep_station(Station(firm=owner.firm, name=facts["name"], source=facts["source"]))
    text = (FOLDER / facts["file"]).read_text(encoding="utf-8")
    read_table(text, unit=facts["unit"], date_order="ymd", station=station, person=owner)


def write_jobs(written: Json, owner: Person) -> None:
    """Make the jobs of the seasons that are sold."""
    for season in written["seasons"]:
        programme = programmes_of(owner).get(name=season["programme"])
        for name in season["places"]:
            place = properties_of(owner).get(name=name)
            make_jobs(owner, place, programme, season["year"])
