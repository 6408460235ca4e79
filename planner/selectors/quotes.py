"""Quotes of a person's firm, how they stand today, and the one that a link leads to."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.db.models import F, Max, OuterRef, Q, QuerySet, Subquery

from planner.core.quote.states import OPEN, QuoteState, state_on
from planner.models import (
    Machine,
    Mix,
    Programme,
    Quote,
    QuoteAnswer,
    QuoteEdit,
    QuoteQuestion,
    QuoteRevision,
)
from properties.models import Person, Property

MOST_OPTIONS = 4


@dataclass(frozen=True)
class OptionFacts:
    """What is typed of one option: a programme, or a mix with its machine and days."""

    title: str = ""
    words: str = ""
    programme: Programme | None = None
    mix: Mix | None = None
    machine: Machine | None = None
    hand_tool: Machine | None = None
    from_on: date | None = None
    to_on: date | None = None


@dataclass(frozen=True)
class QuoteFacts:
    """What is typed of a revision."""

    valid_until: date
    message: str = ""
    options: tuple[OptionFacts, ...] = field(default_factory=tuple)


def quotes_of(person: Person) -> QuerySet[Quote]:
    """List the quotes of a person's firm."""
    return Quote.objects.filter(firm=person.firm_id).select_related("place__customer", "firm")


def revisions_of(person: Person) -> QuerySet[QuoteRevision]:
    """List every revision of every quote of a person's firm."""
    return QuoteRevision.objects.filter(quote__firm=person.firm_id).select_related(
        "quote__place__customer", "quote__firm", "sent_by", "answer__option"
    )


def newest_revisions(person: Person) -> QuerySet[QuoteRevision]:
    """List the newest revision of each quote of a person's firm, the newest quote first."""
    newest = (
        QuoteRevision.objects.filter(quote=OuterRef("quote"))
        .values("quote")
        .annotate(newest=Max("number"))
        .values("newest")
    )
    return (
        revisions_of(person)
        .filter(number=Subquery(newest))
        .annotate(last_edit=Max("edits__made_at"), totals=F("document__totals"))
        .order_by("-quote__year", "-quote__number")
    )


def in_state(
    revisions: QuerySet[QuoteRevision], state: str, *, day: date
) -> QuerySet[QuoteRevision]:
    """Keep the revisions that stand in a state on a day."""
    is_open, is_over = Q(state__in=sorted(OPEN)), Q(valid_until__lt=day)
    if state == QuoteState.EXPIRED:
        return revisions.filter(is_open & is_over)
    told = revisions.filter(state=state)
    return told.exclude(is_over) if state in OPEN else told


def newest_revision(quote: Quote) -> QuoteRevision:
    """Find the newest revision of a quote."""
    return quote.revisions.select_related("quote__place__customer", "quote__firm").latest("number")


def today_at(place: Property, at: datetime) -> date:
    """Say what day it is at a property."""
    return at.astimezone(ZoneInfo(place.time_zone)).date()


def state_of(revision: QuoteRevision, *, at: datetime) -> QuoteState:
    """Say where a revision stands at a moment."""
    day = today_at(revision.quote.place, at)
    return state_on(revision.state, valid_until=revision.valid_until, day=day)


def answer_to(revision: QuoteRevision) -> QuoteAnswer | None:
    """Find what the customer answered, if they did."""
    return QuoteAnswer.objects.filter(revision=revision).select_related("option").first()


def revision_by_link(link: str) -> QuoteRevision | None:
    """Find the revision that a secret link leads to; a draft has none that works."""
    return (
        QuoteRevision.objects.filter(link=link)
        .exclude(state=QuoteState.DRAFT)
        .select_related("quote__place__customer", "quote__firm", "document", "sent_by")
        .first()
    )


def questions_of(quote: Quote) -> QuerySet[QuoteQuestion]:
    """List what the customer asked about any revision of a quote, the first first."""
    return QuoteQuestion.objects.filter(revision__quote=quote).select_related(
        "revision", "replied_by"
    )


def open_questions(person: Person) -> QuerySet[QuoteQuestion]:
    """List the questions of a firm's customers that nobody has replied to."""
    return QuoteQuestion.objects.filter(revision__quote__firm=person.firm_id, reply="")


def facts_of(revision: QuoteRevision) -> QuoteFacts:
    """Read a revision as it would be typed."""
    rows = revision.options.select_related("programme", "mix", "machine", "hand_tool")
    names = OptionFacts.__dataclass_fields__
    options = tuple(OptionFacts(**{name: getattr(row, name) for name in names}) for row in rows)
    return QuoteFacts(revision.valid_until, revision.message, options)


def as_typed(facts: QuoteFacts) -> dict[str, str]:
    """Write facts under the names of the form’s fields, each as the text that a box holds."""
    return {"valid_until": facts.valid_until.isoformat(), "message": facts.message} | {
        f"{name}_{place}": text
        for place, option in enumerate(facts.options, 1)
        for name, text in _texts(option)
    }


def _texts(option: OptionFacts) -> Iterator[tuple[str, str]]:
    for name in OptionFacts.__dataclass_fields__:
        value = getattr(option, name)
        if isinstance(value, date):
            yield name, value.isoformat()
        else:
            yield name, str(getattr(value, "pk", value) or "")


def edit_of(revision: QuoteRevision, edition: int) -> QuoteEdit | None:
    """Find one edit of a draft."""
    return revision.edits.filter(edition=edition).select_related("made_by").first()


def changed_between(before: Mapping[str, str], after: Mapping[str, str]) -> set[str]:
    """Name the fields whose text differs; an empty one is the same as none."""
    return {name for name in {**before, **after} if before.get(name, "") != after.get(name, "")}
