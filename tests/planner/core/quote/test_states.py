"""A quote that waits too long expires, and one that cannot be answered says what to do."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.quote.states import OPEN, QuoteState, require_ahead, require_open, state_on
from properties.core.errors import Refused

LAST = date(2026, 5, 8)
days = st.dates(date(2025, 1, 1), date(2027, 12, 31))


@pytest.mark.parametrize("state", ["sent", "seen"])
def test_a_quote_can_be_accepted_to_the_end_of_its_last_day_and_no_longer(state: str) -> None:
    assert state_on(state, valid_until=LAST, day=LAST) == state
    assert state_on(state, valid_until=LAST, day=LAST + timedelta(1)) is QuoteState.EXPIRED


@given(
    state=st.sampled_from([state for state in QuoteState if state not in OPEN]),
    until=days,
    day=days,
)
def test_time_changes_nothing_about_a_quote_that_nobody_waits_for(
    state: QuoteState, until: date, day: date
) -> None:
    assert state_on(state, valid_until=until, day=day) is state


@pytest.mark.parametrize("state", sorted(OPEN))
def test_a_quote_that_was_sent_or_seen_takes_an_answer(state: QuoteState) -> None:
    require_open(state)


@pytest.mark.parametrize(
    ("state", "words"),
    [
        ("draft", "has not been sent"),
        ("accepted", "was accepted already"),
        ("declined", "was declined"),
        ("expired", "days of this quote are over"),
        ("revised", "newer version"),
    ],
)
def test_any_other_says_why_it_takes_none_and_what_to_do(state: str, words: str) -> None:
    with pytest.raises(Refused) as refused:
        require_open(QuoteState(state))

    assert words in refused.value.problem
    assert refused.value.remedy


def test_a_last_day_that_is_over_is_refused() -> None:
    require_ahead(LAST, day=LAST)
    with pytest.raises(Refused, match="May 8, 2026 is over"):
        require_ahead(LAST, day=LAST + timedelta(1))
