"""What a quote may become: its states, when it ends, and which answer it still takes."""

from datetime import date
from enum import StrEnum

from properties.core.errors import Refused


class QuoteState(StrEnum):
    """Where a revision of a quote stands."""

    DRAFT = "draft"
    SENT = "sent"
    SEEN = "seen"
    ACCEPTED = "accepted"
    DECLINED = "declined"
    EXPIRED = "expired"
    REVISED = "revised"


#: Waiting for the customer; only these run out.
OPEN = frozenset({QuoteState.SENT, QuoteState.SEEN})

#: From which state a newer revision may be written.
REVISABLE = OPEN | {QuoteState.DECLINED, QuoteState.EXPIRED}

_PHONE_US = "Telephone or write to the firm: they can send a new one."
_NOT_OPEN = {
    QuoteState.DRAFT: ("This quote has not been sent yet.", _PHONE_US),
    QuoteState.ACCEPTED: (
        "This quote was accepted already, and it stays as it was accepted.",
        "Nothing more is needed. To change something, telephone or write to the firm.",
    ),
    QuoteState.DECLINED: (
        "This quote was declined, so it cannot be answered again.",
        "If you have thought again, telephone or write to the firm: they can send a new one.",
    ),
    QuoteState.EXPIRED: ("The days of this quote are over.", _PHONE_US),
    QuoteState.REVISED: (
        "A newer version of this quote was sent to you, and only that one holds.",
        "Use the link in the newest message, or ask the firm for it.",
    ),
}


def state_on(state: str, *, valid_until: date, day: date) -> QuoteState:
    """Say where a revision stands on a day: one that waits too long has expired.

    Parameters
    ----------
    state : str
        The state that was written down last. [-]
    valid_until : date
        The last day on which it can be accepted. [day]
    day : date
        Today, where the property is. [day]

    Returns
    -------
    QuoteState
        Where it stands. [-]

    Raises
    ------
    Nothing
        Every state can be looked at on any day.

    References
    ----------
    Our own rule: a quote holds to the end of its last day at the property.
    """
    told = QuoteState(state)
    return QuoteState.EXPIRED if told in OPEN and day > valid_until else told


def require_open(state: QuoteState) -> None:
    """Refuse an answer to what cannot be answered any more.

    Parameters
    ----------
    state : QuoteState
        Where the revision stands today. [-]

    Returns
    -------
    None
        Nothing. [-]

    Raises
    ------
    Refused
        Unless it was sent and waits for its answer; the words say what to do instead.

    References
    ----------
    Our own rule.
    """
    if state not in OPEN:
        raise Refused("link", *_NOT_OPEN[state])


def require_ahead(valid_until: date, *, day: date) -> None:
    """Refuse a last day that is over already.

    Parameters
    ----------
    valid_until : date
        The last day on which a quote can be accepted. [day]
    day : date
        Today, where the property is. [day]

    Returns
    -------
    None
        Nothing. [-]

    Raises
    ------
    Refused
        If it lies before today.

    References
    ----------
    Our own rule.
    """
    if valid_until < day:
        raise Refused(
            "valid_until",
            f"{valid_until:%B} {valid_until.day}, {valid_until.year} is over already.",
            "Choose the last day on which the customer can accept.",
        )
