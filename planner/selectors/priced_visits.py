"""The visits of a price, each with its plan: those of a season in their order, or a single one."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from planner.core.plan import Plan, plan_from_json
from planner.core.season.check import Earlier, with_earlier
from planner.core.season.verdicts import RoundVerdict
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
class VisitPlan:
    """A visit, the plan that it is priced from, and what speaks against doing it."""

    name: str
    plan: Plan
    refusals: tuple[str, ...] = ()


def visit_plans(person: Person, asked: PriceAsked) -> tuple[VisitPlan, ...]:
    """Plan every visit through the one door, the rounds of a season each after those before.

    Refused, or every fault found, where no plan can be made.
    """
    if asked.programme is not None:
        return tuple(_of_season(person, asked, asked.programme))
    if asked.mix is None or asked.machine is None:
        raise Refused("mix", "Nothing is chosen to price.", "Choose a programme or a mix.")
    one = Asked(asked.place, asked.machine, asked.mix, asked.hand_tool, on=asked.on)
    plan = plan_from_json(request_for(person, one, day=asked.on))
    told = tuple(refusal.message for refusal in plan.refusals)
    return (VisitPlan(asked.mix.name, plan, told),)


def _of_season(person: Person, asked: PriceAsked, programme: Programme) -> Iterator[VisitPlan]:
    """Plan again, with error bar and passes, what the season's check found a day for."""
    year = asked.year or _year_of(programme, asked.on)
    season = season_of(person, asked.place, programme, year, on=asked.on)
    rounds = _left(season)
    earlier: list[Earlier] = []
    turf = Turf(programme)
    for round_, verdict in rounds:
        one = Asked(
            asked.place, round_.machine, round_.mix, round_.hand_tool, passes=True, on=verdict.day
        )
        request = turf.keep(request_for(person, one, day=verdict.day))
        told = tuple(each.finding.message for each in verdict.objections)
        plan = plan_from_json(with_earlier(request, earlier))
        yield VisitPlan(round_.name, plan, told)
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
