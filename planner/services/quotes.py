"""Writing quotes: beginning one, editing its draft, and revising what was sent."""

from datetime import datetime

from django.db import transaction
from django.db.models import Max

from planner.core.machine.machines import HAND_KINDS
from planner.core.quote.states import REVISABLE, QuoteState
from planner.models import Quote, QuoteEdit, QuoteOption, QuoteRevision
from planner.models.quotes import LONGEST_TITLE
from planner.selectors.quotes import (
    MOST_OPTIONS,
    OptionFacts,
    QuoteFacts,
    as_typed,
    edit_of,
    facts_of,
    newest_revision,
    state_of,
)
from planner.services.jobs import check_year
from properties.core.errors import Refused
from properties.models import Firm, Person, Property

_OF_THE_FIRM = ("programme", "mix", "machine", "hand_tool")


class EditedMeanwhile(Exception):
    """Somebody else kept the draft after it was opened here. Nothing was written over."""

    def __init__(self, revision: QuoteRevision) -> None:
        self.revision = revision
        self.edit = edit_of(revision, revision.edition)
        who = self.edit.made_by if self.edit else None
        super().__init__(
            f"{who or 'Somebody'} changed this quote after you opened it. Nothing of theirs is "
            "written over, and what you typed is still here."
        )


@transaction.atomic
def begin_quote(
    place: Property, *, person: Person, at: datetime, year: int, facts: QuoteFacts
) -> QuoteRevision:
    """Begin a quote with its first draft, under the next number of the year."""
    check_year(year)
    _check(facts, place)
    # Held, so that two who begin at once get two numbers.
    firm = Firm.objects.select_for_update().get(pk=place.firm_id)
    last = Quote.objects.filter(firm=firm, year=year).aggregate(last=Max("number"))["last"]
    quote = Quote(
        firm=firm, place=place, year=year, number=(last or 0) + 1, begun_at=at, begun_by=person
    )
    quote.full_clean()
    quote.save()
    revision = QuoteRevision(quote=quote, number=1, valid_until=facts.valid_until)
    return _write(revision, facts, person=person, at=at)


@transaction.atomic
def edit_quote(
    revision: QuoteRevision, *, person: Person, at: datetime, edition: int, facts: QuoteFacts
) -> QuoteRevision:
    """Keep what was typed into a draft that was opened as of an edition.

    Raises EditedMeanwhile where a newer one is kept; Refused where it is no draft any more.
    """
    revision = draft_held(revision, edition=edition)
    _check(facts, revision.quote.place)
    revision.edition += 1
    return _write(revision, facts, person=person, at=at)


def draft_held(revision: QuoteRevision, *, edition: int) -> QuoteRevision:
    """Hold a draft for writing. Refused if it was sent, EditedMeanwhile if it is newer."""
    held = (
        QuoteRevision.objects.select_for_update(of=("self",))
        .select_related("quote__place", "quote__firm")
        .get(pk=revision.pk)
    )
    if held.state != QuoteState.DRAFT:
        raise Refused(
            "",
            f"{held} was sent meanwhile, and what was sent stays as it is.",
            "Open it again and press “Revise” to change something.",
        )
    if edition != held.edition:
        raise EditedMeanwhile(held)
    return held


@transaction.atomic
def revise_quote(quote: Quote, *, person: Person, at: datetime) -> QuoteRevision:
    """Begin the next revision as a copy of the newest. What was sent holds until it is sent."""
    Quote.objects.select_for_update().get(pk=quote.pk)
    newest = newest_revision(quote)
    state = state_of(newest, at=at)
    if state is QuoteState.DRAFT:
        return newest
    if state not in REVISABLE:
        raise Refused(
            "",
            f"{newest} was {state}, and it stays as it is.",
            "Begin a new quote for what is wanted besides.",
        )
    revision = QuoteRevision(quote=quote, number=newest.number + 1, valid_until=newest.valid_until)
    return _write(revision, facts_of(newest), person=person, at=at)


def _write(
    revision: QuoteRevision, facts: QuoteFacts, *, person: Person, at: datetime
) -> QuoteRevision:
    revision.valid_until, revision.message = facts.valid_until, facts.message
    revision.full_clean(exclude=["quote"])
    revision.save()
    revision.options.all().delete()
    for position, option in enumerate(facts.options, start=1):
        row = QuoteOption(revision=revision, position=position, **vars(option))
        row.title = option.title or str(option.programme or option.mix)[:LONGEST_TITLE]
        row.full_clean()
        row.save()
    edit = QuoteEdit(
        revision=revision,
        edition=revision.edition,
        made_at=at,
        made_by=person,
        told=as_typed(facts_of(revision)),
    )
    edit.full_clean()
    edit.save()
    return revision


def _check(facts: QuoteFacts, place: Property) -> None:
    if not facts.options:
        raise Refused(
            "programme_1",
            "There is nothing to offer yet.",
            "Choose a programme, or a mix for a single visit.",
        )
    if len(facts.options) > MOST_OPTIONS:
        raise Refused(
            "", f"At most {MOST_OPTIONS} options can stand side by side.", "Leave some out."
        )
    for position, option in enumerate(facts.options, start=1):
        try:
            _check_option(option, place)
        except Refused as refused:
            raise refused.at(f"{refused.field}_{position}") from None


def _check_option(option: OptionFacts, place: Property) -> None:
    for name in _OF_THE_FIRM:
        row = getattr(option, name)
        if row is not None and row.firm_id != place.firm_id:
            raise Refused(name, "This is not of your firm.", "Choose one of the list.")
    if option.programme is not None and option.mix is not None:
        raise Refused(
            "mix", "This is a programme and a single visit at once.", "Choose one of the two."
        )
    if option.programme is None:
        _check_visit(option)


def _check_visit(option: OptionFacts) -> None:
    missing = [
        ("mix", option.mix, "Choose a programme, or a mix for a single visit."),
        ("machine", option.machine, "Choose what the visit is done with."),
        ("from_on", option.from_on, "Enter the first day on which the visit may come."),
        ("to_on", option.to_on, "Enter the last day on which the visit may come."),
    ]
    for name, value, remedy in missing:
        if value is None:
            raise Refused(name, "This is needed for a single visit.", remedy)
    if option.from_on and option.to_on and option.to_on < option.from_on:
        raise Refused("to_on", "The last day lies before the first.", "Look at both days.")
    if option.hand_tool is not None and option.hand_tool.kind not in HAND_KINDS:
        raise Refused("hand_tool", "This is not a hand tool.", "Choose a hand gun or a backpack.")
