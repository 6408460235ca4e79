"""The revisions of a quote, and in what each differs from the one before it."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from planner.core.quote.differences import Differing, differing
from planner.core.quote.states import QuoteState
from planner.models import Quote, QuoteAnswer, QuoteEdit, QuoteRevision
from planner.selectors.quotes import changed_between, state_of


@dataclass(frozen=True)
class EditTold:
    """One edit of a draft: who, when, and which boxes it changed."""

    edit: QuoteEdit
    changed: tuple[str, ...]


@dataclass(frozen=True)
class RevisionTold:
    """One revision: where it stands, what differs from the sent one before it, its edits."""

    revision: QuoteRevision
    state: QuoteState
    answer: QuoteAnswer | None
    before: QuoteRevision | None
    differences: tuple[Differing, ...] = ()
    edits: tuple[EditTold, ...] = ()


def revisions_told(quote: Quote, *, at: datetime) -> list[RevisionTold]:
    """Tell the revisions of a quote, the newest first."""
    rows = quote.revisions.select_related("document", "answer__option", "sent_by", "quote__place")
    return list(reversed(list(_told(list(rows.order_by("number")), at))))


def _told(rows: list[QuoteRevision], at: datetime) -> Iterator[RevisionTold]:
    before: QuoteRevision | None = None
    for row in rows:
        sent = row.sent_at is not None
        yield RevisionTold(
            row,
            state_of(row, at=at),
            getattr(row, "answer", None),
            before,
            differing(_content(before), _content(row)) if sent and before is not None else (),
            tuple(_edits(row)),
        )
        before = row if sent else before


def _edits(row: QuoteRevision) -> Iterator[EditTold]:
    """The edits of a draft, the newest first, each with what it changed."""
    edits = list(row.edits.select_related("made_by"))
    for edit, before in zip(edits, [*edits[1:], None], strict=True):
        changed = set() if before is None else changed_between(before.told, edit.told)
        yield EditTold(edit, tuple(sorted(changed)))


def _content(row: QuoteRevision) -> dict[str, object]:
    content: dict[str, object] = json.loads(bytes(row.document.content))
    return content
