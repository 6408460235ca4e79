"""Sending a quote: freezing what it says, byte for byte, and noting that it was seen."""

import hashlib
import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction

from planner.core.quote.states import OPEN, QuoteState, require_ahead
from planner.models import QuoteDocument, QuoteRevision, QuoteVisit
from planner.papers.quotes import quote_pdf
from planner.selectors.quote_contents import Drafted, OptionDrafted, VisitDrafted, drafted
from planner.selectors.quotes import today_at
from planner.services.quotes import draft_held
from properties.core.errors import Refused
from properties.models import Person


def in_bytes(told: Mapping[str, Any]) -> bytes:
    """Write JSON so that the same content is the same bytes."""
    text = json.dumps(told, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return text.encode()


def sha256_of(content: bytes | memoryview) -> str:
    """Name bytes by their hash."""
    return hashlib.sha256(content).hexdigest()


def send_quote(
    revision: QuoteRevision, *, person: Person, at: datetime, edition: int, address: str
) -> QuoteRevision:
    """Freeze a draft as it stands and open it to the customer; revisions before it are closed.

    ``address`` is where the page of a link is, up to the secret part. Refused where anything
    speaks against it; EditedMeanwhile where somebody changed it. Nothing is sent then.
    """
    require_ahead(revision.valid_until, day=today_at(revision.quote.place, at))
    # Planned and set before the lock is taken: meanwhile everybody else may write.
    now = drafted(person, revision, at=at)
    if now.objections:
        raise Refused("", " ".join(now.objections), "Change the options, then send it.")
    link = f"{address}{revision.link}/"
    papers = {size: quote_pdf(now.content, size=size, link=link) for size in ("letter", "a4")}
    with transaction.atomic():
        held = draft_held(revision, edition=edition)
        _close_earlier(held)
        held.state, held.sent_at, held.sent_by = QuoteState.SENT, at, person
        held.save()
        _freeze(held, now, papers, at=at)
    return held


def _close_earlier(revision: QuoteRevision) -> None:
    """Let no earlier revision be answered any more. Refused if one was accepted meanwhile."""
    earlier = QuoteRevision.objects.select_for_update().filter(
        quote=revision.quote_id, number__lt=revision.number
    )
    for row in earlier:
        if row.state == QuoteState.ACCEPTED:
            raise Refused(
                "",
                f"{row} was accepted meanwhile, and it holds.",
                "Begin a new quote for what is wanted besides.",
            )
    earlier.filter(state__in=[*OPEN, QuoteState.DECLINED]).update(state=QuoteState.REVISED)


def _freeze(
    revision: QuoteRevision, now: Drafted, papers: Mapping[str, bytes], *, at: datetime
) -> None:
    content = in_bytes(now.content)
    document = QuoteDocument(
        revision=revision,
        made_at=at,
        content=content,
        content_sha256=sha256_of(content),
        totals={told["letter"]: told["total_words"] for told in now.content["options"]},
        inside=now.inside,
        **papers,
        **{f"{size}_sha256": sha256_of(paper) for size, paper in papers.items()},
    )
    document.full_clean()
    document.save()
    for one in now.options:
        _freeze_visits(one)


def _freeze_visits(one: OptionDrafted) -> None:
    prices = [visit.price for visit in one.priced.price.visits]
    for position, (visit, price) in enumerate(zip(one.visits, prices, strict=True), start=1):
        row = QuoteVisit(**_facts(visit), option=one.option, position=position, price=price)
        row.full_clean()
        row.save()


def _facts(visit: VisitDrafted) -> dict[str, Any]:
    planned = visit.planned
    return {
        "name": visit.name,
        "round": planned.round,
        "mix": planned.asked.mix,
        "machine": planned.asked.machine,
        "hand_tool": planned.asked.hand_tool,
        "from_on": visit.first,
        "to_on": visit.last,
    }


def note_seen(revision: QuoteRevision, *, at: datetime) -> None:
    """Note that the customer opened it, the first time only."""
    QuoteRevision.objects.filter(pk=revision.pk, state=QuoteState.SENT).update(
        state=QuoteState.SEEN, seen_at=at
    )
