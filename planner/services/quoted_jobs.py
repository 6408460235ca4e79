"""The jobs of an accepted quote: made once, as they were offered."""

from datetime import datetime

from planner.models import Job, QuoteOption, QuoteVisit
from properties.models import Person


def make_quoted_jobs(option: QuoteOption, *, person: Person | None, at: datetime) -> list[Job]:
    """Make a job of each visit of an accepted option, at the price that was accepted.

    The days, the mix and the tool are those of the quote, whatever the programme says today.
    A round that is a job there already stays as it is, and has its price from now on.
    """
    return [_job(visit, option, person, at) for visit in option.visits.all()]


def _job(visit: QuoteVisit, option: QuoteOption, person: Person | None, at: datetime) -> Job:
    quote = option.revision.quote
    made = _made_already(visit, option)
    if made is not None:
        if made.quote_option is None:
            made.quote_option, made.price = option, visit.price
            made.save(update_fields=["quote_option", "price"])
        return made
    job = Job(
        firm=quote.firm,
        place=quote.place,
        programme=option.programme,
        round=visit.round,
        # A single visit is due in the year of its days, whatever season the quote is for.
        year=quote.year if visit.round_id else visit.from_on.year,
        name=visit.name,
        mix=visit.mix,
        machine=visit.machine,
        hand_tool=visit.hand_tool,
        from_on=visit.from_on,
        to_on=visit.to_on,
        quote_option=option,
        price=visit.price,
        made_by=person,
        made_at=at,
    )
    job.full_clean()
    job.save()
    return job


def _made_already(visit: QuoteVisit, option: QuoteOption) -> Job | None:
    quote = option.revision.quote
    if visit.round_id is None:
        return None
    jobs = Job.objects.select_for_update().filter(place=quote.place, year=quote.year)
    return jobs.filter(round=visit.round_id).first()
