"""What a revision says as its options stand today: each planned and priced, one door each."""

import json
from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from planner.core.plan import plan_from_json
from planner.core.quote.content import Around, Heading, OptionTold, VisitTold, quote_content
from planner.core.report import plan_as_json
from planner.core.season.verdicts import OF_THE_DAY
from planner.models import Mix, QuoteOption, QuoteRevision
from planner.selectors.labels import newest_version
from planner.selectors.notices import notices_at
from planner.selectors.priced_visits import PriceAsked, VisitPlan, visit_plans
from planner.selectors.prices import Priced, as_json, price_of_plans
from planner.selectors.programmes import window_of
from planner.selectors.quotes import today_at
from properties.models import Firm, Person
from properties.selectors.outlines import drawing_of

Json = dict[str, Any]

#: From where the wind comes does not matter: only that it comes from somewhere, so that
#: a plan tells the distance all round and the one upwind apart.
_SOME_WIND = {"weather": {"wind_from": "N"}}
#: Warnings of a price that tell what the work costs or leaves.
OF_MARGINS = frozenset({"below_cost", "below_margin", "error_beyond_break_even"})
#: What asks for distances, and what has nothing to do with them.
_ASKING = ("property", "machine", "hand_tool", "mix", "setback_rules")
_OF_THE_PAST = {"history", "history_since", "seedings", "blackouts", "passes"}


@dataclass(frozen=True)
class VisitDrafted:
    """One visit as it would be made today, and the days between which it comes."""

    name: str
    planned: VisitPlan
    first: date
    last: date


@dataclass(frozen=True)
class OptionDrafted:
    """An option as it would be sent today: its visits, its price, the rounds left out."""

    option: QuoteOption
    visits: tuple[VisitDrafted, ...]
    priced: Priced
    left_out: tuple[tuple[str, str], ...] = ()

    @property
    def price(self) -> Json:
        """The price as it is frozen."""
        return as_json(self.priced)


@dataclass(frozen=True)
class Drafted:
    """A revision as it would be sent today.

    ``objections`` speak against sending it, ``cautions`` are to be known before;
    ``inside`` is for the owner alone.
    """

    content: Json
    options: tuple[OptionDrafted, ...]

    @property
    def objections(self) -> tuple[str, ...]:
        """What the plan of a single visit refuses, whatever the day brings."""
        return tuple(
            f"{one.option.title}: {refusal.message}"
            for one in self.options
            for visit in one.visits
            for refusal in visit.planned.plan.refusals
            if visit.planned.round is None and refusal.code not in OF_THE_DAY
        )

    @property
    def cautions(self) -> tuple[str, ...]:
        """The rounds that are left out, and what the check in advance found of the others."""
        return tuple(dict.fromkeys(words for one in self.options for words in _cautions(one)))

    def of_prices(self, *, margins: bool) -> tuple[str, ...]:
        """What the prices warn of; of cost and margin only where somebody may see them."""
        return tuple(
            f"{one.option.title}: {warning['message']}"
            for one in self.options
            for warning in one.price["warnings"]
            if margins or warning["code"] not in OF_MARGINS
        )

    @property
    def inside(self) -> Json:
        """The price of each option with its costs, by its letter."""
        letters = (told["letter"] for told in self.content["options"])
        return {
            letter: drafted.price for letter, drafted in zip(letters, self.options, strict=True)
        }


def _cautions(one: OptionDrafted) -> Iterator[str]:
    for name, reason in one.left_out:
        yield f"{one.option.title}: {name} must not be done and is left out. {reason}"
    for visit in one.visits:
        for words in visit.planned.cautions:
            yield f"{one.option.title}, {visit.name}: {words}"


def drafted(person: Person, revision: QuoteRevision, *, at: datetime) -> Drafted:
    """Plan and price every option of a revision as of a moment, and write its content.

    Refused, or every fault found, where something is not known that a plan or a price needs.
    """
    place = revision.quote.place
    day = today_at(place, at)
    rows = revision.options.select_related("programme", "mix", "machine", "hand_tool")
    reader = _as_the_firm(person)
    options = tuple(_option(reader, revision, row, day) for row in rows)
    around = Around(
        drawing_of(place),
        place.drawing_number,
        tuple(
            {"time": row.get_time_display(), "words": row.words, "source": row.source}
            for row in notices_at(place, day)
        ),
    )
    in_wind: dict[str, Json] = {}
    told = [_told(one, in_wind) for one in options]
    content = quote_content(_heading(person, revision, at=at, day=day), told, around)
    return Drafted(content, options)


def _as_the_firm(person: Person) -> Person:
    """Whoever writes it, a quote is in the units of the firm."""
    reader = copy(person)
    reader.units = person.firm.units
    return reader


def _option(person: Person, revision: QuoteRevision, row: QuoteOption, day: date) -> OptionDrafted:
    year = revision.quote.year
    asked = PriceAsked(
        place=revision.quote.place,
        on=day if row.programme else max(day, row.from_on or day),
        programme=row.programme,
        year=year,
        mix=row.mix,
        machine=row.machine,
        hand_tool=row.hand_tool,
    )
    found = visit_plans(person, asked)
    visits = tuple(_visit_drafted(planned, row, year) for planned in found.planned)
    priced = price_of_plans(
        person,
        asked,
        [visit.name for visit in visits],
        [visit.planned.plan for visit in visits],
        name=row.title,
    )
    return OptionDrafted(row, visits, priced, found.left_out)


def _visit_drafted(planned: VisitPlan, row: QuoteOption, year: int) -> VisitDrafted:
    """Name a visit and its days; a round that is not open before a day begins on that day."""
    round_ = planned.round
    if round_ is None:
        if row.from_on is None or row.to_on is None:
            raise ValueError("a single visit has days")
        return VisitDrafted(row.title, planned, row.from_on, row.to_on)
    window = window_of(round_, year)
    first = max(window.first, planned.asked.on or window.first)
    return VisitDrafted(planned.name, planned, first, max(window.last, first))


def _told(one: OptionDrafted, planned_before: dict[str, Json]) -> OptionTold:
    programme = one.option.programme
    return OptionTold(
        title=one.option.title,
        words=one.option.words,
        visits=tuple(_visit(visit, planned_before) for visit in one.visits),
        price=one.price,
        programme="" if programme is None else programme.name,
    )


def _visit(visit: VisitDrafted, planned_before: dict[str, Json]) -> VisitTold:
    planned = visit.planned
    plan = plan_as_json(planned.plan)
    return VisitTold(
        name=visit.name,
        first=visit.first,
        last=visit.last,
        method=planned.plan.parts[0].sprayer.method,
        request=planned.request,
        plan=plan,
        in_wind=_in_wind(planned.request, plan, planned_before),
        labels=tuple(_labels(planned.asked.mix)),
    )


def _in_wind(request: Json, plan: Json, planned_before: dict[str, Json]) -> Json:
    """Plan again for a wind from somewhere, where any distance depends on it.

    Once for all visits that the same distances are asked of: only those are looked at.
    """
    if all(warning["code"] != "wind_unknown_all_round" for warning in plan["warnings"]):
        return plan
    key = json.dumps({name: request.get(name) for name in _ASKING}, sort_keys=True)
    if key not in planned_before:
        lean = {name: told for name, told in request.items() if name not in _OF_THE_PAST}
        planned_before[key] = plan_as_json(plan_from_json(lean | _SOME_WIND))
    return planned_before[key]


def _labels(mix: Mix) -> Iterator[str]:
    for part in mix.parts.all():
        version = newest_version(part.product)
        number = "" if version is None else f", version {version.number}"
        yield f"label of {part.product.name}{number}"


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
