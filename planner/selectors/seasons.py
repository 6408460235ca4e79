"""The season of a property: its rounds in a year, asked in advance through the one door."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from planner.core.season.check import check_season
from planner.core.season.figures import count_figure
from planner.core.season.openings import Opening, State
from planner.core.season.readings import Reading
from planner.core.season.verdicts import Outcome, RoundAsked, RoundVerdict
from planner.core.season.windows import Window
from planner.core.shown import Units
from planner.models import Job, Machine, Mix, Programme, Round
from planner.selectors.applications import applications_at, contents_of
from planner.selectors.plans import Asked, request_for
from planner.selectors.programmes import window_of
from planner.selectors.temperatures import job_window, readings_of, scale_of, station_for
from properties.core.errors import Refused
from properties.core.features import KINDS, Role
from properties.core.working import Figure
from properties.models import Person, Property

__all__ = ["Opening", "Season", "SeasonRound", "Window", "degree_days_figure", "season_of"]

Json = dict[str, Any]


@dataclass(frozen=True)
class SeasonRound:
    """A round of a season: its job if it is one, its window, and what was found about it.

    ``verdict`` is None for what is settled: done and in the records, left out, or missed.
    ``missed`` are rounds whose window was over before anybody did them.
    """

    round: Round
    job: Job | None
    opening: Opening
    verdict: RoundVerdict | None = None
    missed: bool = False
    fault: str = ""

    @property
    def state(self) -> str:
        """How it stands: as its job, or planned."""
        return self.job.state if self.job else "planned"

    @property
    def outcome(self) -> str:
        """What was found, in one word."""
        if self.verdict is not None:
            return self.verdict.outcome.value
        if self.fault:
            return Outcome.UNKNOWN.value
        return "missed" if self.missed else self.state


@dataclass(frozen=True)
class Season:
    """A programme on a property in a year. ``unfit`` are lawns that it is not meant for.

    ``others`` are jobs of the property that are no rounds of it: what they use up counts.
    """

    place: Property
    programme: Programme
    year: int
    on: date
    rounds: tuple[SeasonRound, ...]
    unfit: tuple[str, ...] = ()
    turf_unknown: bool = False
    others: tuple[RoundVerdict, ...] = ()

    @property
    def worst(self) -> str:
        """The outcome that most needs somebody's eye."""
        found = {each.outcome for each in self.rounds}
        order = (Outcome.REFUSED, Outcome.UNKNOWN, Outcome.PART, Outcome.LATER)
        return next((each.value for each in order if each in found), Outcome.FITS.value)


@dataclass
class Turf:
    """Which lawns of a property a programme is meant for."""

    programme: Programme
    unfit: dict[str, None] = field(default_factory=dict)
    unknown: bool = False

    def keep(self, request: Json) -> Json:
        """Take the lawns that a programme is not meant for out of a plan request."""
        wanted = set(self.programme.turfgrasses)
        if not wanted:
            return request
        kept = [each for each in request["property"]["features"] if self._is_meant(each, request)]
        if not any(_is_turf(each) for each in kept):
            raise Refused(
                "programme",
                f"{self.programme} is not meant for the turf of this property.",
                "Choose another programme, or change what it is meant for.",
            )
        return request | {"property": request["property"] | {"features": kept}}

    def _is_meant(self, feature: Json, request: Json) -> bool:
        if not _is_turf(feature):
            return True
        told = feature["properties"].get("turfgrasses") or request.get("turfgrasses") or []
        self.unknown = self.unknown or not told
        if set(told) <= set(self.programme.turfgrasses):
            return True
        self.unfit[feature["properties"]["name"]] = None
        return False


def _is_turf(feature: Json) -> bool:
    return KINDS[feature["properties"]["kind"]].role is Role.TURF


def season_of(
    person: Person, place: Property, programme: Programme, year: int, *, on: date
) -> Season:
    """Ask for every round of a programme on a property in a year, in advance."""
    jobs = {job.round_id: job for job in Job.objects.filter(place=place, year=year)}
    readings = readings_of(station_for(place), year)
    turf = Turf(programme)
    told = [
        _stands(each, jobs.get(each.pk), readings, year, on=on) for each in programme.rounds.all()
    ]
    asked = [_asked(person, place, each, turf, on=on) for each in told if not _is_settled(each)]
    asked += _others(person, place, programme, year, on=on)
    found = check_season(asked)
    verdicts = {each.asked.number: each for each in found if not each.asked.is_other}
    rounds = tuple(
        SeasonRound(
            each.round,
            each.job,
            each.opening,
            verdicts.get(each.round.position),
            each.missed,
            each.fault,
        )
        for each in told
    )
    others = tuple(each for each in found if each.asked.is_other)
    return Season(place, programme, year, on, rounds, tuple(turf.unfit), turf.unknown, others)


def _others(
    person: Person, place: Property, programme: Programme, year: int, *, on: date
) -> list[RoundAsked]:
    """Write the jobs of a property that are no rounds of a programme, and not in the records."""
    jobs = (
        Job.objects.filter(place=place, year=year, state__in=("planned", "done"))
        .exclude(round__programme=programme)
        .select_related("mix", "machine", "hand_tool", "programme", "place")
    )
    return [
        _asked_of_job(person, job, n, on=on)
        for n, job in enumerate(jobs, start=1)
        if job.machine is not None and not (job.state == "done" and _is_recorded(job))
    ]


def _asked_of_job(person: Person, job: Job, number: int, *, on: date) -> RoundAsked:
    first = job.done_on or max(job.from_on, on)
    window = Window(first, max(first, job.done_on or job.to_on))

    def request_on(day: date) -> Json:
        if job.machine is None:
            raise Refused("machine", "Nobody says with which machine.", "Choose one.")
        asked = Asked(job.place, job.machine, job.mix, hand_tool=job.hand_tool, on=day)
        request = _lean(request_for(person, asked, day=day))
        return request if job.programme is None else Turf(job.programme).keep(request)

    return RoundAsked(
        number, job.name, window, first, request_on, _contents(job.mix), is_other=True
    )


def _stands(
    round_: Round, job: Job | None, readings: Sequence[Reading], year: int, *, on: date
) -> SeasonRound:
    by_warmth = round_.opened_by != "dates"
    usual = window_of(round_, year)
    if job is not None and not by_warmth:
        usual = Window(job.from_on, job.to_on)
    try:
        opening = job_window(usual, round_, readings, year, on=on)
    except Refused as refused:
        opening = Opening(State.UNKNOWN, usual, str(refused))
        return SeasonRound(round_, job, opening, fault=str(refused))
    is_open = job is None or job.state == "planned"
    missed = is_open and max(opening.expected.last, usual.last) < on
    return SeasonRound(round_, job, opening, missed=missed)


def _is_settled(each: SeasonRound) -> bool:
    """Whether nothing is left to ask: left out, missed, or done and in the records."""
    job = each.job
    if each.missed or each.fault or each.state in {"skipped", "cancelled"}:
        return True
    return job is not None and job.state == "done" and _is_recorded(job)


def _is_recorded(job: Job) -> bool:
    """Whether the records have, for the day it was done, a product of its mix."""
    products = [part.product_id for part in job.mix.parts.all()]
    rows = applications_at(job.place).filter(struck_at=None, product__in=products)
    return job.done_on in set(rows.values_list("applied_on", flat=True))


def _asked(
    person: Person, place: Property, each: SeasonRound, turf: Turf, *, on: date
) -> RoundAsked:
    window, job = each.opening.expected, each.job
    if job is not None and job.done_on is not None:
        window = Window(job.done_on, job.done_on)
    elif window.first < on:
        window = Window(on, max(on, window.last))
    mix, machine, hand_tool = _with(each)

    def request_on(day: date) -> Json:
        asked = Asked(place=place, machine=machine, mix=mix, hand_tool=hand_tool, on=day)
        return turf.keep(_lean(request_for(person, asked, day=day)))

    return RoundAsked(
        each.round.position, each.round.name, window, window.first, request_on, _contents(mix)
    )


def _lean(request: Json) -> Json:
    """Leave out what no limit depends on and takes long: error bars and passes."""
    if "tanks" in request["machine"]:
        request["passes"] = False
    request.pop("position_errors", None)
    for feature in request["property"]["features"]:
        for word in ("measured_by", "position_error"):
            feature["properties"].pop(word, None)
    return request


def _with(each: SeasonRound) -> tuple[Mix, Machine, Machine | None]:
    """What a round is done with: as its job says, else as the programme does."""
    job, round_ = each.job, each.round
    if job is None or job.machine is None:
        return round_.mix, round_.machine, round_.hand_tool
    return job.mix, job.machine, job.hand_tool


def _contents(mix: Mix) -> Mapping[str, Json]:
    return {part.product.name: contents_of(part.product) for part in mix.parts.all()}


def degree_days_figure(each: SeasonRound, *, units: str) -> Figure | None:
    """Derive the degree days that a round goes by, as far as they are known."""
    count = each.opening.count
    if count is None:
        return None
    unit = "deg C" if units == Units.METRIC else "deg F"
    return count_figure(count, scale_of(each.round), unit=unit)


def entries_of(season: Season) -> Iterable[Json]:
    """List what the rounds of a season would put down, as the history of a request tells it."""
    verdicts = [each.verdict for each in season.rounds if each.verdict is not None]
    ordered = sorted(
        [*verdicts, *season.others], key=lambda verdict: (verdict.day, verdict.asked.number)
    )
    return (entry for verdict in ordered for entry in verdict.entries)
