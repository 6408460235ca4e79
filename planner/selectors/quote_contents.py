"""What a revision says as its options stand today: each planned and priced, one door each."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from planner.core.plan import Plan, plan_from_json
from planner.core.pricing import price_as_json
from planner.core.quote.content import Around, Heading, OptionTold, VisitTold, quote_content
from planner.core.report import plan_as_json
from planner.core.season.verdicts import OF_THE_DAY, Objection, Outcome
from planner.models import Mix, QuoteOption, QuoteRevision, Round
from planner.selectors.labels import newest_version
from planner.selectors.notices import notices_at
from planner.selectors.plans import Asked
from planner.selectors.priced_visits import every_visit
from planner.selectors.prices import PriceAsked, Priced, price_of_plans
from planner.selectors.programmes import window_of
from planner.selectors.quotes import today_at
from planner.selectors.seasons import Season, season_of
from properties.models import Firm, Person
from properties.selectors.outlines import drawing_of

Json = dict[str, Any]

#: From where the wind comes does not matter: only that it comes from somewhere, so that
#: a plan tells the distance all round and the one upwind apart.
_SOME_WIND = {"weather": {"wind_from": "N"}}


@dataclass(frozen=True)
class VisitDrafted:
    """One visit as it would be made today."""

    name: str
    round: Round | None
    asked: Asked
    first: date
    last: date
    request: Json
    plan: Plan


@dataclass(frozen=True)
class OptionDrafted:
    """An option as it would be sent today: its visits and its price."""

    option: QuoteOption
    visits: tuple[VisitDrafted, ...]
    priced: Priced
    season: Season | None = None

    @property
    def price(self) -> Json:
        """The price as it is frozen."""
        return price_as_json(self.priced.price)


@dataclass(frozen=True)
class Drafted:
    """A revision as it would be sent today.

    ``objections`` speak against sending it; ``inside`` is for the owner alone.
    """

    content: Json
    options: tuple[OptionDrafted, ...]
    objections: tuple[str, ...]

    @property
    def unfit(self) -> tuple[str, ...]:
        """Lawns that an option is priced for and not meant for, in a sentence each."""
        seasons = [one.season for one in self.options if one.season is not None]
        return tuple(
            f"{season.programme} is not meant for what grows on {lawn}."
            for season in seasons
            for lawn in season.unfit
        )

    @property
    def inside(self) -> Json:
        """The price of each option with its costs, by its letter."""
        letters = (told["letter"] for told in self.content["options"])
        return {
            letter: drafted.price for letter, drafted in zip(letters, self.options, strict=True)
        }


def drafted(person: Person, revision: QuoteRevision, *, at: datetime) -> Drafted:
    """Plan and price every option of a revision as of a moment, and write its content.

    Refused, or every fault found, where something is not known that a plan or a price needs.
    """
    place = revision.quote.place
    day = today_at(place, at)
    rows = revision.options.select_related("programme", "mix", "machine", "hand_tool")
    options = tuple(_option(person, revision, row, day) for row in rows)
    around = Around(
        drawing_of(place),
        place.drawing_number,
        tuple(
            {"time": row.get_time_display(), "words": row.words, "source": row.source}
            for row in notices_at(place, day)
        ),
    )
    content = quote_content(
        _heading(person, revision, at=at, day=day), [_told(one) for one in options], around
    )
    return Drafted(content, options, tuple(_objections(options)))


def _option(person: Person, revision: QuoteRevision, row: QuoteOption, day: date) -> OptionDrafted:
    place, year = revision.quote.place, revision.quote.year
    asked = PriceAsked(
        place=place,
        on=max(day, date(year, 1, 1)) if row.programme else max(day, row.from_on or day),
        programme=row.programme,
        year=year,
        mix=row.mix,
        machine=row.machine,
        hand_tool=row.hand_tool,
    )
    visits = tuple(_visits(person, asked, row, year))
    priced = price_of_plans(
        person, asked, [v.name for v in visits], [v.plan for v in visits], name=row.title
    )
    programme = row.programme
    season = None if programme is None else season_of(person, place, programme, year, on=day)
    return OptionDrafted(row, visits, priced, season)


def _visits(
    person: Person, asked: PriceAsked, row: QuoteOption, year: int
) -> Iterator[VisitDrafted]:
    for each in every_visit(person, asked):
        first, last = _days(row, each.round, year)
        request = each.request | {"units": person.firm.units}
        yield VisitDrafted(
            row.title if each.round is None else each.name,
            each.round,
            each.asked,
            first,
            last,
            request,
            plan_from_json(request),
        )


def _days(row: QuoteOption, round_: Round | None, year: int) -> tuple[date, date]:
    if round_ is not None:
        window = window_of(round_, year)
        return window.first, window.last
    if row.from_on is None or row.to_on is None:
        raise ValueError("a single visit has days")
    return row.from_on, row.to_on


def _told(one: OptionDrafted) -> OptionTold:
    programme = one.option.programme
    return OptionTold(
        title=one.option.title,
        words=one.option.words,
        visits=tuple(_visit(visit) for visit in one.visits),
        price=one.price,
        programme="" if programme is None else programme.name,
    )


def _visit(visit: VisitDrafted) -> VisitTold:
    plan = plan_as_json(visit.plan)
    return VisitTold(
        name=visit.name,
        first=visit.first,
        last=visit.last,
        method=visit.plan.parts[0].sprayer.method,
        request=visit.request,
        plan=plan,
        in_wind=_in_wind(visit, plan),
        labels=tuple(_labels(visit.asked.mix)),
    )


def _in_wind(visit: VisitDrafted, plan: Json) -> Json:
    """Plan again for a wind from somewhere, where any distance depends on it."""
    if all(warning["code"] != "wind_unknown_all_round" for warning in plan["warnings"]):
        return plan
    return plan_as_json(plan_from_json(visit.request | _SOME_WIND))


def _labels(mix: Mix) -> Iterator[str]:
    for part in mix.parts.all():
        version = newest_version(part.product)
        number = "" if version is None else f", version {version.number}"
        yield f"label of {part.product.name}{number}"


def _objections(options: tuple[OptionDrafted, ...]) -> Iterator[str]:
    """What speaks against sending: what a plan refuses, and what a season has no room for."""
    for one in options:
        found = _of_plans(one) if one.season is None else _of_season(one.season)
        for words in dict.fromkeys(found):
            yield f"{one.option.title}: {words}"


def _of_plans(one: OptionDrafted) -> Iterator[str]:
    for visit in one.visits:
        for refusal in visit.plan.refusals:
            if refusal.code not in OF_THE_DAY:
                yield refusal.message


def _of_season(season: Season) -> Iterator[str]:
    for each in season.rounds:
        verdict = each.verdict
        if each.fault:
            yield f"{each.round}: {each.fault}"
        elif verdict is not None and verdict.outcome in {Outcome.REFUSED, Outcome.UNKNOWN}:
            told = [*verdict.faults, *(_objection_words(found) for found in verdict.objections)]
            yield f"{each.round}: {' '.join(told)}"


def _objection_words(found: Objection) -> str:
    return f"{found.finding.message} {found.advice}".strip()


def _heading(person: Person, revision: QuoteRevision, *, at: datetime, day: date) -> Heading:
    quote = revision.quote
    place = quote.place
    return Heading(
        firm={"name": quote.firm.name, "lines": list(_firm_lines(quote.firm))},
        customer=place.customer.name,
        place={"name": place.name, "address": place.address},
        number=str(quote),
        revision=revision.number,
        year=quote.year,
        written_at=at,
        written_on=day,
        written_by=person.name,
        valid_until=revision.valid_until,
        message=revision.message,
        units=quote.firm.units,
    )


def _firm_lines(firm: Firm) -> Iterator[str]:
    if firm.address:
        yield firm.address
    reach = [f"Telephone {firm.phone}" if firm.phone else "", firm.email]
    if any(reach):
        yield " · ".join(part for part in reach if part)
    if firm.licence:
        yield f"Business licence {firm.licence}"
