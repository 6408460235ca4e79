"""Taking down that a portfolio quote was accepted, and making its jobs, all or nothing."""

from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from planner.models import Job, PortfolioLine, PortfolioQuote, Round
from planner.selectors.portfolios import is_newest
from planner.selectors.programmes import window_of
from properties.core.errors import Refused
from properties.models import Person


def accept_portfolio_quote(
    quote: PortfolioQuote, *, name: str, on: date, person: Person, at: datetime
) -> PortfolioQuote:
    """Take down who accepted a quote on which day, and make a job of every round sold."""
    _require_open(quote)
    if not quote.made_at.date() <= on <= timezone.localdate(at):
        raise Refused(
            "on",
            "This day lies before the quote was made, or has not come yet.",
            "Enter the day on which they said yes.",
        )
    # Made before the lock is taken: five hundred properties take their time.
    jobs = list(_jobs(quote, person=person, at=at))
    with transaction.atomic():
        held = PortfolioQuote.objects.select_for_update().get(pk=quote.pk)
        _require_open(held)
        held.accepted_name, held.accepted_on = name.strip(), on
        held.taken_by, held.taken_at = person, at
        held.full_clean()
        held.save()
        _add_new(jobs, held)
    return held


def _add_new(jobs: list[Job], quote: PortfolioQuote) -> None:
    """Add the jobs that are none yet; a round that is a job there already stays as it is."""
    rounds = quote.programme.rounds.all()
    known = set(Job.objects.filter(round__in=rounds, year=quote.year).values_list("place", "round"))
    fresh = [job for job in jobs if (job.place_id, job.round_id) not in known]
    Job.objects.bulk_create(fresh, batch_size=200)


def _require_open(quote: PortfolioQuote) -> None:
    if quote.total is None:
        raise Refused("", "This has no price.", "Put right what the page names, and quote anew.")
    if quote.accepted_on is not None:
        raise Refused(
            "", f"This was accepted already, on {quote.accepted_on}.", "Its jobs are in Season."
        )
    if not is_newest(quote):
        raise Refused("", "A newer quote has taken its place.", "Accept that one.")


def _jobs(quote: PortfolioQuote, *, person: Person, at: datetime) -> Iterator[Job]:
    """A job of each round sold at each property."""
    rounds = {each.pk: each for each in quote.programme.rounds.all()}
    for line in quote.lines.select_related("place").defer("shares").iterator(chunk_size=50):
        for key, visit in zip(line.price["rounds"], line.price["visits"], strict=True):
            if key in rounds:
                job = _job(line, rounds[key], price=Decimal(visit["price"]), year=quote.year)
                job.made_by, job.made_at = person, at
                job.clean_fields(exclude={"firm", "place", "programme", "round", "mix"})
                yield job


def _job(line: PortfolioLine, round_: Round, *, price: Decimal, year: int) -> Job:
    window = window_of(round_, year)
    return Job(
        firm_id=line.place.firm_id,
        place=line.place,
        programme=round_.programme,
        round=round_,
        year=year,
        name=round_.name,
        mix=round_.mix,
        machine=round_.machine,
        hand_tool=round_.hand_tool,
        from_on=window.first,
        to_on=window.last,
        price=price,
    )
