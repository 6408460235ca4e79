"""The season of the demo: five rounds that fit, and a sixth that the check finds out."""

from datetime import date

from planner.models import Job
from planner.selectors.programmes import programmes_of
from planner.selectors.seasons import season_of
from planner.selectors.yearly_rooms import yearly_rooms
from properties.models import Person, Property


def test_the_sixth_round_is_one_too_many_and_its_reasons_are_named(ada: Person) -> None:
    programme = programmes_of(ada).get(name="Six-round lawn care (invented)")
    place = Property.objects.get(name="Marsh house")

    season = season_of(ada, place, programme, 2027, on=date(2027, 1, 15))

    assert [each.outcome for each in season.rounds] == ["fits"] * 5 + ["refused"]
    verdict = season.rounds[5].verdict
    assert verdict is not None
    used = {each.round and each.round.name for each in verdict.objections[0].used_up_by}
    assert used == {"Spring weeds", "Late summer weeds"}
    assert {room.what for room in yearly_rooms(ada, season)} >= {
        "N",
        "Invented broadleaf herbicide",
    }
    assert Job.objects.filter(place=place, year=2027).count() == 6


def test_the_temperatures_of_the_demo_open_its_rounds_in_their_year(ada: Person) -> None:
    programme = programmes_of(ada).get(name="Six-round lawn care (invented)")
    place = Property.objects.get(name="Ferry Meadow sports ground")

    season = season_of(ada, place, programme, 2026, on=date(2026, 5, 6))

    states = {each.round.name: each.opening.state.value for each in season.rounds}
    assert states["Pre-emergence"] != "unknown"
    assert states["Spring weeds"] in {"not_yet", "open", "over"}
