"""What a customer does with a quote: accept it once, decline it, ask about it."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db import transaction

from planner.core.quote.states import QuoteState, require_open
from planner.models import QuoteAnswer, QuoteDocument, QuoteOption, QuoteQuestion, QuoteRevision
from planner.selectors.quotes import answer_to, state_of, today_at
from planner.services.quoted_jobs import make_quoted_jobs
from planner.services.sent_quotes import in_bytes, sha256_of
from properties.core.errors import Refused
from properties.models import Person

MOST_QUESTIONS = 20


@dataclass(frozen=True)
class Signed:
    """Who answers and on which day they wrote it; who of the firm took it down, if anybody."""

    name: str
    on: date
    at: datetime
    taken_by: Person | None = None


def accept_quote(revision: QuoteRevision, *, letter: str, signed: Signed) -> QuoteAnswer:
    """Accept one option, freeze what was accepted, and make its jobs, all or nothing.

    Accepting the same again changes nothing and gives the same answer, so that a second press
    of the button does no harm. Refused, with what to do, where it cannot be accepted.
    """
    with transaction.atomic():
        held = _held(revision)
        option = _option(held, letter)
        before = answer_to(held)
        if before is not None and before.kind == "accepted" and before.option_id == option.pk:
            return before
        require_open(state_of(held, at=signed.at))
        _check_signed(held, signed)
        answer = _write(held, "accepted", signed, option=option)
        make_quoted_jobs(option, person=held.sent_by, at=signed.at)
    return answer


def decline_quote(revision: QuoteRevision, *, reason: str, signed: Signed) -> QuoteAnswer:
    """Decline a quote, with a reason if there is one. Declining again changes nothing."""
    with transaction.atomic():
        held = _held(revision)
        before = answer_to(held)
        if before is not None and before.kind == "declined":
            return before
        require_open(state_of(held, at=signed.at))
        _check_signed(held, signed)
        return _write(held, "declined", signed, reason=reason.strip())


def ask_about_quote(
    revision: QuoteRevision, *, name: str, words: str, at: datetime
) -> QuoteQuestion:
    """Ask the firm something about a quote, whatever its state."""
    if revision.questions.count() >= MOST_QUESTIONS:
        raise Refused(
            "words", "Many questions were asked here already.", "Telephone or write to the firm."
        )
    question = QuoteQuestion(revision=revision, name=name.strip(), words=words.strip(), asked_at=at)
    question.full_clean()
    question.save()
    return question


def reply_to(question: QuoteQuestion, *, reply: str, person: Person, at: datetime) -> QuoteQuestion:
    """Reply to a question; the customer reads it on the page of the quote."""
    if not reply.strip():
        raise Refused("reply", "There is no reply yet.", "Write what the customer should know.")
    question.reply, question.replied_by, question.replied_at = reply.strip(), person, at
    question.full_clean()
    question.save()
    return question


def _held(revision: QuoteRevision) -> QuoteRevision:
    """Hold a revision, so that two answers at once come one after the other."""
    return (
        QuoteRevision.objects.select_for_update(of=("self",))
        .select_related("quote__place", "quote__firm", "sent_by")
        .get(pk=revision.pk)
    )


def _option(revision: QuoteRevision, letter: str) -> QuoteOption:
    options = list(revision.options.all())
    place = ord(letter) - ord("A") if len(letter) == 1 else -1
    if not 0 <= place < len(options):
        raise Refused("letter", "No option is chosen.", "Choose one of the options.")
    return options[place]


def _check_signed(revision: QuoteRevision, signed: Signed) -> None:
    if not signed.name.strip():
        raise Refused("name", "Your name is missing.", "Write your name.")
    place, sent_at = revision.quote.place, revision.sent_at
    sent_on = signed.on if sent_at is None else today_at(place, sent_at)
    if not sent_on <= signed.on <= today_at(place, signed.at):
        raise Refused(
            "on",
            "This day lies before the quote was sent, or has not come yet.",
            "Enter the day on which you answer.",
        )


def _write(
    revision: QuoteRevision,
    kind: str,
    signed: Signed,
    *,
    option: QuoteOption | None = None,
    reason: str = "",
) -> QuoteAnswer:
    record = in_bytes(_record(revision, kind, signed, option) | {"reason": reason})
    answer = QuoteAnswer(
        revision=revision,
        kind=kind,
        option=option,
        name=signed.name.strip(),
        answered_on=signed.on,
        answered_at=signed.at,
        taken_by=signed.taken_by,
        reason=reason,
        record=record,
        record_sha256=sha256_of(record),
    )
    answer.full_clean()
    answer.save()
    revision.state = QuoteState(kind)
    revision.save(update_fields=["state"])
    return answer


def _record(
    revision: QuoteRevision, kind: str, signed: Signed, option: QuoteOption | None
) -> dict[str, Any]:
    """What was answered, tied by hashes to the very bytes that were read."""
    document: QuoteDocument = revision.document
    return {
        "quote": str(revision.quote),
        "revision": revision.number,
        "answer": kind,
        "option": "" if option is None else option.title,
        "position": None if option is None else option.position,
        "name": signed.name.strip(),
        "on": signed.on.isoformat(),
        "at": signed.at.isoformat(),
        "content_sha256": document.content_sha256,
        "letter_sha256": document.letter_sha256,
        "a4_sha256": document.a4_sha256,
    }
