"""The season of stored rows: what the records and the jobs settle, and what is asked."""

from datetime import UTC, date, datetime

import pytest

from planner.models import Machine, Mix, Product, Programme, Round, Station
from planner.selectors.seasons import season_of
from planner.selectors.yearly_rooms import yearly_rooms
from planner.services.applications import Entered, record_application, say_known_since
from planner.services.jobs import make_jobs, move_with_warmth, say_done, skip
from planner.services.labels import keep_label
from planner.services.programmes import keep_programme
from planner.services.temperatures import keep_station, read_table
from properties.core.units import Quantity
from properties.models import Firm, Outline, Person, Property

AT = datetime(2026, 4, 20, 15, 0, tzinfo=UTC)
BEFORE = date(2026, 1, 15)
RATE = "fl oz/1000 sq ft"


@pytest.fixture
def limited(product: Product, place: Property, owner: Person) -> Product:
    """The herbicide at 2 fl oz/1,000 sq ft a year, at a place whose past is known."""
    say_known_since(place, since=date(2024, 1, 1), entered=Entered(owner, AT))
    product.per_year = Quantity(2.0, RATE)
    return keep_label(product, setbacks={"pond": Quantity(25.0, "ft")})


def _outcomes(
    person: Person, place: Property, programme: Programme, on: date = BEFORE
) -> list[str]:
    season = season_of(person, place, programme, 2026, on=on)
    return [each.outcome for each in season.rounds]


def test_the_third_round_breaks_what_two_rounds_used_up(
    owner: Person, place: Property, programme: Programme, limited: Product
) -> None:
    season = season_of(owner, place, programme, 2026, on=BEFORE)

    assert [each.outcome for each in season.rounds] == ["fits", "fits", "refused"]
    assert season.worst == "refused"
    verdict = season.rounds[2].verdict
    assert verdict is not None
    used = [each.round and each.round.name for each in verdict.objections[0].used_up_by]
    assert used == ["Spring", "Summer"]


def test_the_room_left_tells_the_records_from_the_season(
    owner: Person, place: Property, programme: Programme, limited: Product
) -> None:
    record_application(
        place,
        product=limited,
        rate=Quantity(0.3, RATE),
        applied_on=date(2026, 2, 1),
        refs=["lawn"],
        entered=Entered(owner, AT),
    )

    season = season_of(owner, place, programme, 2026, on=date(2026, 2, 2))
    rooms = yearly_rooms(owner, season)

    (room,) = (each for each in rooms if each.what == limited.name)
    told = room.places[0]
    assert told.planned is not None
    assert told.left is not None
    assert Quantity(0.3, RATE).si == pytest.approx(told.used or 0)
    # Twice 0.8, each rounded to a mark of the jug.
    assert told.planned == pytest.approx(Quantity(1.6, RATE).si, rel=0.05)
    assert told.left == pytest.approx(Quantity(2.0, RATE).si - (told.used or 0) - told.planned)


def test_a_round_in_the_records_is_not_counted_twice(
    owner: Person, place: Property, programme: Programme, limited: Product
) -> None:
    spring = make_jobs(owner, place, programme, 2026)[0]
    say_done(spring, on=date(2026, 4, 12), person=owner, at=AT)

    asked = _outcomes(owner, place, programme, AT.date())
    record_application(
        place,
        product=limited,
        rate=Quantity(0.8, RATE),
        applied_on=date(2026, 4, 12),
        refs=["lawn"],
        entered=Entered(owner, AT),
    )
    recorded = _outcomes(owner, place, programme, AT.date())

    # Until it is in the records it counts as planned; then the records count.
    assert asked == ["fits", "fits", "refused"]
    assert recorded == ["done", "fits", "refused"]


def test_jobs_of_another_programme_use_up_the_year_too(
    owner: Person, place: Property, programme: Programme, limited: Product
) -> None:
    spring = programme.rounds.all()[0]
    spring.pk, spring.name, spring.from_day, spring.to_day = None, "Extra", "05-15", "05-25"
    other = keep_programme(Programme(firm=owner.firm, name="Extra"), rounds=[spring])
    (extra,) = make_jobs(owner, place, other, 2026)

    season = season_of(owner, place, programme, 2026, on=BEFORE)
    rooms = yearly_rooms(owner, season)
    skip(extra, why="Not wanted", person=owner, at=AT)
    without = season_of(owner, place, programme, 2026, on=BEFORE)

    # Twice 0.8 of 2.0 a year: with the extra job there is no room left for summer.
    assert [each.outcome for each in season.rounds] == ["fits", "refused", "refused"]
    verdict = season.rounds[1].verdict
    assert verdict is not None
    assert "planned in the job Extra" in [
        each.words.split(", ", 3)[3] for each in verdict.objections[0].used_up_by
    ]
    (room,) = (each for each in rooms if each.what == limited.name)
    assert room.places[0].planned == pytest.approx(Quantity(1.6, RATE).si, rel=0.05)
    assert [each.outcome for each in without.rounds] == ["fits", "fits", "refused"]
    assert without.others == ()


def test_a_round_that_is_skipped_leaves_its_room_to_the_others(
    owner: Person, place: Property, programme: Programme, limited: Product
) -> None:
    skip(make_jobs(owner, place, programme, 2026)[1], why="Too dry", person=owner, at=AT)

    assert _outcomes(owner, place, programme) == ["fits", "skipped", "fits"]


def test_a_round_whose_window_is_over_is_missed(
    owner: Person, place: Property, programme: Programme
) -> None:
    assert _outcomes(owner, place, programme, date(2026, 7, 15)) == ["missed", "missed", "fits"]


def test_a_lawn_that_the_programme_is_not_meant_for_is_named_and_left_out(
    owner: Person, place: Property, programme: Programme
) -> None:
    programme.turfgrasses = ["kentucky_bluegrass"]
    programme.save()
    Outline.objects.filter(property=place, ref="lawn").update(turfgrasses=["creeping_bentgrass"])

    season = season_of(owner, place, programme, 2026, on=BEFORE)

    assert season.unfit == ("Lawn",)
    assert {each.outcome for each in season.rounds} == {"unknown"}


def test_turf_of_which_nobody_told_what_grows_is_kept_and_said_to_be_unknown(
    owner: Person, place: Property, programme: Programme
) -> None:
    programme.turfgrasses = ["kentucky_bluegrass"]
    programme.save()

    season = season_of(owner, place, programme, 2026, on=BEFORE)

    assert season.turf_unknown
    assert season.unfit == ()


@pytest.fixture
def warm_round(firm: Firm, mix: Mix, machine: Machine) -> Round:
    """A round that waits for soil of 50 °F for three days."""
    programme = keep_programme(
        Programme(firm=firm, name="By the soil"),
        rounds=[
            Round(
                name="Early",
                from_day="03-20",
                to_day="04-10",
                opened_by="soil",
                soil_at=Quantity(50.0, "deg F"),
                soil_days=3,
                counted_from="03-01",
                mix=mix,
                machine=machine,
            )
        ],
    )
    return programme.rounds.get()


def _with_soil(firm: Firm, person: Person, place: Property, *soil: str) -> None:
    station = keep_station(Station(firm=firm, name="Yard"))
    rows = "\n".join(f"2026-03-{day:02},{read}" for day, read in enumerate(soil, start=1))
    read_table(f"date,soil\n{rows}", unit="deg F", date_order="ymd", station=station, person=person)


def test_warm_soil_opens_a_round_before_its_usual_days(
    firm: Firm, owner: Person, place: Property, warm_round: Round
) -> None:
    _with_soil(firm, owner, place, "48", "50", "51", "52")

    season = season_of(owner, place, warm_round.programme, 2026, on=date(2026, 3, 5))

    (early,) = season.rounds
    assert early.opening.expected.first == date(2026, 3, 4)
    assert early.verdict is not None
    assert early.verdict.day == date(2026, 3, 5)


def test_a_gap_in_the_readings_is_said(
    firm: Firm, owner: Person, place: Property, warm_round: Round
) -> None:
    _with_soil(firm, owner, place, "50", "", "51")

    season = season_of(owner, place, warm_round.programme, 2026, on=date(2026, 3, 5))

    assert season.rounds[0].opening.state.value == "unknown"
    assert "nobody read the soil on March 2, 2026" in season.rounds[0].opening.words


def test_a_round_that_is_half_told_says_what_is_missing(
    owner: Person, place: Property, warm_round: Round
) -> None:
    Round.objects.filter(pk=warm_round.pk).update(soil_days=None)

    season = season_of(owner, place, warm_round.programme, 2026, on=date(2026, 3, 5))

    assert season.rounds[0].outcome == "unknown"
    assert "Nobody says for how many days" in season.rounds[0].fault


def test_jobs_that_wait_for_warmth_move_to_the_days_the_readings_tell(
    firm: Firm, owner: Person, place: Property, warm_round: Round
) -> None:
    (job,) = make_jobs(owner, place, warm_round.programme, 2026)
    _with_soil(firm, owner, place, "48", "50", "51", "52")
    yard = Station.objects.get()

    moved = move_with_warmth(yard, on=date(2026, 3, 5))
    again = move_with_warmth(yard, on=date(2026, 3, 6))

    job.refresh_from_db()
    # Three days in a row on March 4; as long as its usual days, March 20 to April 10.
    assert (job.from_on, job.to_on) == (date(2026, 3, 4), date(2026, 3, 25))
    assert [each.pk for each in moved] == [job.pk]
    assert again == []


def test_where_the_readings_cannot_tell_a_job_keeps_its_days(
    firm: Firm, owner: Person, place: Property, warm_round: Round
) -> None:
    make_jobs(owner, place, warm_round.programme, 2026)
    _with_soil(firm, owner, place, "50", "", "51")
    yard = Station.objects.get()
    Round.objects.filter(pk=warm_round.pk).update(soil_days=3)

    assert move_with_warmth(yard, on=date(2026, 3, 5)) == []
    Round.objects.filter(pk=warm_round.pk).update(soil_days=None)
    assert move_with_warmth(yard, on=date(2026, 3, 5)) == []


def test_a_job_by_dates_does_not_move(
    firm: Firm, owner: Person, place: Property, programme: Programme
) -> None:
    make_jobs(owner, place, programme, 2026)
    _with_soil(firm, owner, place, "48", "50")

    assert move_with_warmth(Station.objects.get(), on=date(2026, 3, 5)) == []
