"""The quotes of the demo: one that waits for its answer, one that was accepted. All invented."""

import json
from datetime import date, datetime
from typing import Any

from planner.management.scenario.scene import FOLDER
from planner.models import Notice, QuoteRevision
from planner.selectors.equipment import machines_of
from planner.selectors.notices import notices_of
from planner.selectors.products import mixes_of
from planner.selectors.programmes import programmes_of
from planner.selectors.quotes import OptionFacts, QuoteFacts, quotes_of, today_at
from planner.services.notices import keep_notice
from planner.services.quote_answers import Signed, accept_quote, ask_about_quote
from planner.services.quotes import begin_quote
from planner.services.sent_quotes import note_seen, send_quote
from properties.models import Person
from properties.selectors.people import people_of
from properties.selectors.places import properties_of
from properties.services.firms import change_firm

Json = dict[str, Any]

#: Where the demo is served unless somebody says otherwise; it stands on the paper.
ADDRESS = "http://127.0.0.1:8000/q/"


def write_quotes(owner: Person) -> None:
    """Write the head of the firm's letters, its notices and its quotes, as far as they miss."""
    written = json.loads((FOLDER / "quotes.json").read_text(encoding="utf-8"))
    firm = owner.firm
    if not firm.phone:
        change_firm(firm, name=firm.name, units=firm.units, **written["firm"])
    if not notices_of(owner).exists():
        for told in written["notices"]:
            _notice(told, owner)
    if not quotes_of(owner).exists():
        for told in written["quotes"]:
            _quote(told, owner)


def _notice(told: Json, owner: Person) -> None:
    from_on = date.fromisoformat(told["from_on"])
    notice = Notice(firm=owner.firm, **(told | {"from_on": from_on}))
    keep_notice(notice, person=owner, at=owner.firm.founded_at)


def _quote(told: Json, owner: Person) -> None:
    person = people_of(owner).get(email=told["by"])
    place = properties_of(owner).get(name=told["place"])
    facts = QuoteFacts(
        date.fromisoformat(told["valid_until"]),
        told["message"],
        tuple(_option(option, owner) for option in told["options"]),
    )
    begun_at, sent_at = (datetime.fromisoformat(told[word]) for word in ("begun_at", "sent_at"))
    draft = begin_quote(place, person=person, at=begun_at, year=told["year"], facts=facts)
    sent = send_quote(draft, person=person, at=sent_at, edition=draft.edition, address=ADDRESS)
    if "question" in told:
        _ask(sent, told["question"])
    if "accepted" in told:
        _accept(sent, told["accepted"])


def _option(told: Json, owner: Person) -> OptionFacts:
    rows = {
        "programme": programmes_of(owner),
        "mix": mixes_of(owner),
        "machine": machines_of(owner),
        "hand_tool": machines_of(owner),
    }
    chosen = {word: rows[word].get(name=told[word]) for word in rows if word in told}
    days = {word: date.fromisoformat(told[word]) for word in ("from_on", "to_on") if word in told}
    facts: dict[str, Any] = told | chosen | days
    return OptionFacts(**facts)


def _ask(sent: QuoteRevision, told: Json) -> None:
    at = datetime.fromisoformat(told["at"])
    note_seen(sent, at=at)
    ask_about_quote(sent, name=told["name"], words=told["words"], at=at)


def _accept(sent: QuoteRevision, told: Json) -> None:
    at = datetime.fromisoformat(told["at"])
    note_seen(sent, at=at)
    signed = Signed(told["name"], today_at(sent.quote.place, at), at)
    accept_quote(sent, letter=told["letter"], signed=signed)
