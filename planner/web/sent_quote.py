"""What was sent with a quote, read back and held against its hash."""

import json
from typing import Any

from planner.models import QuoteDocument
from planner.services.sent_quotes import sha256_of

Json = dict[str, Any]


class NotWhole(Exception):
    """What is kept of a quote is not what was sent."""


def content_of(document: QuoteDocument) -> Json:
    """Read the content as it was sent. Raises NotWhole if it was changed since."""
    content: Json = json.loads(_whole(document.content, document.content_sha256))
    return content


def paper_of(document: QuoteDocument, *, size: str) -> bytes:
    """Give the paper as it was sent. Raises NotWhole if it was changed since."""
    return _whole(getattr(document, size), getattr(document, f"{size}_sha256"))


def _whole(kept: bytes | memoryview, sha256: str) -> bytes:
    content = bytes(kept)
    if sha256_of(content) != sha256:
        raise NotWhole
    return content
