"""Invented quotes for the small lot: a draft, one that was sent, one that was accepted."""

from datetime import UTC, date, datetime
from typing import Any

import pytest

from planner.models import (
    Container,
    Machine,
    Mix,
    Notice,
    PriceBook,
    Programme,
    Quote,
    QuoteAnswer,
    QuoteDocument,
    QuoteRevision,
    QuoteVisit,
    Round,
    TaxRule,
)
from planner.selectors.quotes import OptionFacts, QuoteFacts
from planner.services.notices import keep_notice
from planner.services.quote_answers import Signed, accept_quote
from planner.services.quotes import begin_quote
from planner.services.sent_quotes import send_quote
from properties.models import Firm, Person, Property

BEGUN_AT = datetime(2026, 4, 8, 15, 0, tzinfo=UTC)
SENT_AT = datetime(2026, 4, 8, 16, 0, 12, 345678, tzinfo=UTC)
ANSWERED_AT = datetime(2026, 4, 9, 18, 30, tzinfo=UTC)
VALID_UNTIL = date(2026, 5, 8)
ADDRESS = "https://turf.example/q/"


@pytest.fixture
def notice(firm: Firm, owner: Person) -> Notice:
    """A sign at each visit, as an invented code wants it."""
    return keep_notice(
        Notice(
            firm=firm,
            time="visit",
            words="We put up a sign; you take it down after 24 hours.",
            source="Invented county code",
            from_on=date(2026, 1, 1),
        ),
        person=owner,
        at=BEGUN_AT,
    )


def single_visit(mix: Mix, machine: Machine) -> OptionFacts:
    """The mix once, in the second half of April."""
    return OptionFacts(
        title="One visit",
        mix=mix,
        machine=machine,
        from_on=date(2026, 4, 15),
        to_on=date(2026, 4, 30),
    )


@pytest.fixture
def quote(place: Property, owner: Person, machine: Machine, mix: Mix) -> Quote:
    """A draft with a single visit, which nobody has priced."""
    facts = QuoteFacts(VALID_UNTIL, "Thank you for the walk.", (single_visit(mix, machine),))
    return begin_quote(place, person=owner, at=BEGUN_AT, year=2026, facts=facts).quote


@pytest.fixture
def priced(
    price_book: PriceBook, containers: list[Container], tax_rule: TaxRule, notice: Notice
) -> PriceBook:
    """All that a quote is priced with, and the notice that the place requires."""
    return price_book


@pytest.fixture
def draft(
    place: Property,
    owner: Person,
    machine: Machine,
    mix: Mix,
    programme: Programme,
    priced: PriceBook,
) -> QuoteRevision:
    """A draft with a programme and a single visit side by side, with all that prices it."""
    facts = QuoteFacts(
        VALID_UNTIL,
        "Thank you for the walk.",
        (
            OptionFacts(title="All year", words="Three rounds.", programme=programme),
            single_visit(mix, machine),
        ),
    )
    return begin_quote(place, person=owner, at=BEGUN_AT, year=2026, facts=facts)


#: What the first sending of a session froze; it is the same every time, and takes a second.
_FROZEN: dict[str, Any] = {}
_BYTES = ("content", "letter", "a4")


@pytest.fixture
def sent(draft: QuoteRevision, owner: Person) -> QuoteRevision:
    """The draft, sent an hour later."""
    if _FROZEN:
        return _sent_as_before(draft, owner)
    revision = send_quote(draft, person=owner, at=SENT_AT, edition=draft.edition, address=ADDRESS)
    document = revision.document
    _FROZEN["document"] = {name: bytes(getattr(document, name)) for name in _BYTES} | {
        name: getattr(document, name)
        for name in ("made_at", "totals", "inside", *(f"{name}_sha256" for name in _BYTES))
    }
    _FROZEN["visits"] = [
        (visit.option.position, visit.round and visit.round.position, _plain(visit))
        for visit in QuoteVisit.objects.filter(option__revision=revision)
    ]
    return revision


def _plain(visit: QuoteVisit) -> dict[str, Any]:
    return {
        name: getattr(visit, name) for name in ("position", "name", "from_on", "to_on", "price")
    }


def _sent_as_before(draft: QuoteRevision, owner: Person) -> QuoteRevision:
    """Write the rows that sending wrote before."""
    draft.state, draft.sent_at, draft.sent_by = "sent", SENT_AT, owner
    draft.save()
    QuoteDocument.objects.create(revision=draft, **_FROZEN["document"])
    for place, round_, facts in _FROZEN["visits"]:
        option = draft.options.get(position=place)
        of = option.programme.rounds.get(position=round_) if option.programme else option
        assert of.mix is not None
        QuoteVisit.objects.create(
            option=option,
            round=of if isinstance(of, Round) else None,
            mix=of.mix,
            machine=of.machine,
            hand_tool=of.hand_tool,
            **facts,
        )
    return draft


@pytest.fixture
def accepted(sent: QuoteRevision) -> QuoteAnswer:
    """The programme, accepted by the customer on the next day."""
    return accept_quote(
        sent, letter="A", signed=Signed("M. Sorrel", ANSWERED_AT.date(), ANSWERED_AT)
    )
