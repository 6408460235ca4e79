"""Where money is leaking in a firm: its done jobs as quoted, as planned and as used."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.db.models import QuerySet

from planner.core.leaks.leaks import (
    NOTHING_KNOWN,
    Grouping,
    Leak,
    Stage,
    Visit,
    comparisons_of,
    leaks_by,
    time_cost,
)
from planner.core.leaks.stages import material_cost, planned_stage, quoted_stage
from planner.core.pricing import Book, UnitCost, Used
from planner.core.pricing import Visit as PricedVisit
from planner.models import Job, JobWork, PastApplication, PlannedUse
from planner.selectors.applications import amount_on
from planner.selectors.jobs import jobs_of
from planner.selectors.prices import book_of, container_costs, newest_version, usual_book
from properties.core.errors import Refused
from properties.core.units import Quantity, parse_quantity
from properties.models import Person

Json = dict[str, Any]

NOBODY = "not recorded by whom"
LETTERS = "ABCDEFGH"


@dataclass(frozen=True)
class JobStages:
    """A done job at its three stages, and why some of it is not known."""

    job: Job
    visit: Visit
    gaps: tuple[str, ...]

    @property
    def rows(self) -> list[tuple[str, Decimal | None, Decimal | None, Decimal | None]]:
        """Each product and the time as it was quoted, planned and used."""
        visit = self.visit
        return [
            (what, visit.quoted.of(what), visit.planned.of(what), visit.used.of(what))
            for what in visit.subjects
        ]


@dataclass(frozen=True)
class Leaks:
    """What leaked; ``groups`` are by ``property``, by ``product`` and by ``crew``."""

    jobs: tuple[JobStages, ...]
    groups: Mapping[str, tuple[Leak, ...]]
    has_book: bool

    @property
    def money(self) -> Decimal | None:
        """All that is known to have leaked; None where nothing could be compared."""
        known = [each.money for each in self.groups[Grouping.PLACE.value] if each.money is not None]
        return sum(known, Decimal(0)) if known else None

    @property
    def unrecorded(self) -> tuple[JobStages, ...]:
        """The jobs of which something is missing."""
        return tuple(each for each in self.jobs if each.gaps)


def leaks_of(person: Person, *, since: date, until: date) -> Leaks:
    """Set the done jobs of a time side by side at their stages."""
    prices = _prices_of(person)
    put_down = defaultdict(list)
    for row in PastApplication.objects.filter(
        property__firm=person.firm_id, applied_on__range=(since, until), struck_at=None
    ):
        put_down[row.property_id, row.applied_on].append(row)
    told = tuple(
        _stages(job, prices, put_down[job.place_id, job.done_on])
        for job in _done(person, since, until)
        if job.done_on is not None
    )
    comparisons = comparisons_of(each.visit for each in told)
    groups = {grouping.value: leaks_by(grouping, comparisons) for grouping in Grouping}
    return Leaks(told, groups, prices.book is not None)


def _done(person: Person, since: date, until: date) -> QuerySet[Job]:
    rows = jobs_of(person).filter(state="done", done_on__range=(since, until))
    return rows.select_related(
        "planned_use", "work__done_by", "quote_option__revision__document"
    ).prefetch_related("mix__parts")


@dataclass(frozen=True)
class _Prices:
    """What time and containers cost a firm today."""

    book: Book | None
    costs: Mapping[str, UnitCost]

    def material(self, amounts: Mapping[str, Quantity]) -> dict[str, Decimal]:
        """What was used, in money, as far as a container of it has a price."""
        told = {}
        for name, amount in amounts.items():
            cost = self.costs.get(name)
            if cost is not None and cost.size.dimension is amount.dimension:
                told[name] = material_cost(amount, cost)
        return told

    def time(self, minutes: int | None) -> Decimal | None:
        """What time costs, where somebody wrote it down and a book knows the wage."""
        if minutes is None or self.book is None:
            return None
        return time_cost(minutes, wage_per_hour=self.book.costs.wage_per_hour)


def _prices_of(person: Person) -> _Prices:
    costs = container_costs(person.firm)
    try:
        return _Prices(book_of(newest_version(usual_book(person))), costs)
    except Refused:
        return _Prices(None, costs)


def _stages(job: Job, prices: _Prices, put_down: Iterable[PastApplication]) -> JobStages:
    quoted, planned = _quoted(job), _planned(job, prices)
    work: JobWork | None = getattr(job, "work", None)
    amounts = _used(job, put_down)
    used = Stage(prices.material(amounts), prices.time(None if work is None else work.minutes))
    by = job.said_by if work is None else work.done_by
    visit = Visit(job.pk, str(job.place), NOBODY if by is None else str(by), quoted, planned, used)
    return JobStages(job, visit, tuple(_gaps(job, visit, amounts)))


def _gaps(job: Job, visit: Visit, amounts: Mapping[str, Quantity]) -> Iterator[str]:
    if job.quote_option_id is None:
        yield "not of a quote"
    elif visit.quoted == NOTHING_KNOWN:
        yield "the frozen quote does not tell"
    if visit.planned == NOTHING_KNOWN:
        yield "not planned beforehand"
    if not amounts:
        yield "product not recorded"
    if visit.used.time is None:
        yield "time not recorded"


def _quoted(job: Job) -> Stage:
    option = job.quote_option
    document = None if option is None else getattr(option.revision, "document", None)
    if option is None or document is None or not 1 <= option.position <= len(LETTERS):
        return NOTHING_KNOWN
    price = document.inside.get(LETTERS[option.position - 1])
    return NOTHING_KNOWN if price is None else quoted_stage(price, name=job.name)


def _planned(job: Job, prices: _Prices) -> Stage:
    use: PlannedUse | None = getattr(job, "planned_use", None)
    if use is None or use.why_not:
        return NOTHING_KNOWN
    return planned_stage(_visit(job, use.facts, prices.costs), prices.book)


def _visit(job: Job, facts: Json, costs: Mapping[str, UnitCost]) -> PricedVisit:
    products = tuple(
        Used(name, Quantity(told["amount"], told["unit"]), None, costs.get(name))
        for name, told in facts["products"].items()
    )
    ground = {name: facts[name] for name in ("area_m2", "edge_m", "passes_s", "paced_m2")}
    return PricedVisit(name=job.name, products=products, **ground)


def used_amounts(job: Job) -> dict[str, Quantity]:
    """Find what was used for a job: as somebody wrote it down, else as the place has it."""
    if job.done_on is None:
        return {}
    rows = PastApplication.objects.filter(
        property=job.place_id, applied_on=job.done_on, struck_at=None
    )
    return _used(job, rows)


def _used(job: Job, on_that_day: Iterable[PastApplication]) -> dict[str, Quantity]:
    work: JobWork | None = getattr(job, "work", None)
    if work is not None and work.used:
        return {name: parse_quantity(amount) for name, amount in work.used.items()}
    products = {part.product_id for part in job.mix.parts.all()}
    sums: dict[str, Quantity] = {}
    for row in on_that_day:
        if row.product_id in products:
            amount = amount_on(row.geometry, row.rate)
            before = sums.get(row.product_name)
            value = amount.value + (0.0 if before is None else before.to(amount.unit).value)
            sums[row.product_name] = Quantity(value, amount.unit)
    return sums
