"""The visits of a price, each with its plan: those of a season in their order, or a single one."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from planner.core.plan import Plan, plan_from_json
from planner.core.season.check import Earlier, with_earlier
from planner.core.season.verdicts import Outcome, RoundVerdict
from planner.models import Machine, Mix, PriceBook, Programme, Round
from planner.selectors.plans import Asked, request_for
from planner.selectors.programmes import window_of
from planner.selectors.seasons import Season, Turf, season_of
from properties.core.errors import FaultsFound, Refused
from properties.models import Person, Property


@dataclass(frozen=True)
class PriceAsked:
    """What a person wants priced: a programme in a year, or one visit with a mix and a machine.

    ``year`` is None for the year of the day, or the next where its rounds are all over.
    ``travel_min`` is None where that of the book holds.
    """

    place: Property
    on: date
    programme: Programme | None = None
    year: int | None = None
    mix: Mix | None = None
    machine: Machine | None = None
    hand_tool: Machine | None = None
    book: PriceBook | None = None
    prepaid: bool = False
    travel_min: Decimal | None = None
    trims: bool = True

    @property
    def words(self) -> str:
        """What it is called."""
        return self.programme.name if self.programme else self.mix.name if self.mix else ""


@dataclass(frozen=True)
class VisitAsked:
    """One visit to be planned and priced: what it is called, and what is asked of its plan."""

    name: str
    asked: Asked


@dataclass(frozen=True)
class VisitPlan:
    """A visit as it is planned, what speaks against it and what to know of it.

    ``round`` is None for one alone.
    """

    name: str
    asked: Asked
    request: dict[str, Any]
    plan: Plan
    refusals: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    round: Round | None = None


@dataclass(frozen=True)
class Visits:
    """The visits of a price, and the rounds that must not be done: (name, reason) each."""

    planned: tuple[VisitPlan, ...]
    left_out: tuple[tuple[str, str], ...] = ()


def visits_asked(asked: PriceAsked) -> tuple[VisitAsked, ...]:
    """List every round of a programme as if it stood alone, or the one visit.

    Refused if neither is chosen.
    """
    if asked.programme is None:
        return (_single(asked),)
    return tuple(
        VisitAsked(
            round_.name,
            Asked(
                asked.place,
                round_.machine,
                round_.mix,
                round_.hand_tool,
                on=max(window_of(round_, asked.on.year).first, asked.on),
            ),
        )
        for round_ in asked.programme.rounds.all()
    )


def _single(asked: PriceAsked) -> VisitAsked:
    if asked.mix is None or asked.machine is None:
        raise Refused("mix", "Nothing is chosen to price.", "Choose a programme or a mix.")
    one = Asked(asked.place, asked.machine, asked.mix, asked.hand_tool, on=asked.on)
    return VisitAsked(asked.mix.name, one)


def every_visit(person: Person, asked: PriceAsked) -> tuple[VisitPlan, ...]:
    """Plan every visit through the one door, the rounds of a season each after those before.

    What must not be done has ``refusals``. Refused, or every fault found, where no plan can
    be made.
    """
    if asked.programme is not None:
        year = asked.year or _year_of(asked.programme, asked.on)
        season = season_of(person, asked.place, asked.programme, year, on=asked.on)
        return tuple(_planned(person, asked, _left(season), Turf(asked.programme)))
    visit = _single(asked)
    request = request_for(person, visit.asked, day=asked.on)
    plan = plan_from_json(request)
    told = tuple(refusal.message for refusal in plan.refusals)
    return (VisitPlan(visit.name, visit.asked, request, plan, told),)


def visit_plans(person: Person, asked: PriceAsked) -> Visits:
    """Plan the visits that are priced: rounds that must not be done are left out.

    Refused, or every fault found, where no plan can be made or no round may be done.
    """
    visits = every_visit(person, asked)
    if asked.programme is None:
        return Visits(visits)
    left_out = tuple((each.name, words) for each in visits for words in each.refusals)
    planned = tuple(each for each in visits if not each.refusals)
    if not planned:
        raise FaultsFound(
            Refused("programme", f"{name} must not be done: {words}") for name, words in left_out
        )
    return Visits(planned, left_out)


def _planned(
    person: Person, asked: PriceAsked, rounds: Sequence[tuple[Round, RoundVerdict]], turf: Turf
) -> Iterator[VisitPlan]:
    """Plan again, with error bar and passes, what the season's check found a day for."""
    earlier: list[Earlier] = []
    for round_, verdict in rounds:
        one = Asked(
            asked.place, round_.machine, round_.mix, round_.hand_tool, passes=True, on=verdict.day
        )
        alone = turf.keep(request_for(person, one, day=verdict.day))
        request = with_earlier(alone, earlier)
        told = tuple(each.finding.message for each in verdict.objections)
        is_refused = verdict.outcome is Outcome.REFUSED
        yield VisitPlan(
            round_.name,
            one,
            request,
            plan_from_json(request),
            refusals=told if is_refused else (),
            cautions=() if is_refused else told,
            round=round_,
        )
        earlier += [Earlier(verdict.asked, verdict.day, entry) for entry in verdict.entries]


def _year_of(programme: Programme, on: date) -> int:
    last = [window_of(round_, on.year).last for round_ in programme.rounds.all()]
    return on.year if any(day >= on for day in last) else on.year + 1


def _left(season: Season) -> list[tuple[Round, RoundVerdict]]:
    """The rounds still to be done, in the order of their days; every fault found at once."""
    asked = [(each.round, each.verdict) for each in season.rounds if each.verdict is not None]
    faults = [
        Refused(f"rounds[{round_.position}]", f"{round_.name}: {fault}")
        for round_, verdict in asked
        for fault in verdict.faults
    ]
    faults += [Refused("rounds", each.fault) for each in season.rounds if each.fault]
    if faults:
        raise FaultsFound(faults)
    if not asked:
        raise Refused(
            "programme",
            f"No round of {season.programme} is left to do here in {season.year}.",
            "Choose a day of another year.",
        )
    return sorted(asked, key=lambda pair: (pair[1].day, pair[0].position))
