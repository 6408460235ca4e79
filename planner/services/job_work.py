"""Writing down what a job really took: time, and product, which is taken from the stock."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from django.db import transaction

from planner.models import Job, JobWork, Product
from planner.services.jobs import say_done
from planner.services.needs import keep_planned_use
from planner.services.stock import Act, check_form
from planner.services.taking import source_of_job, take_loaded, untake
from properties.core.errors import Refused
from properties.core.units import Quantity
from properties.models import Person


@dataclass(frozen=True)
class Took:
    """What a job took, as far as somebody knows: who did it, when, minutes, product."""

    done_by: Person
    on: date
    minutes: int | None = None
    used: Mapping[Product, Quantity] = field(default_factory=dict)


def record_job_work(job: Job, took: Took, *, person: Person, at: datetime) -> JobWork:
    """Write down what a job took, instead of what was written before; it is done then.

    What was used is taken from the stock, once, whatever was told of that day and property
    by other ways. Refused where nothing is told.
    """
    if took.minutes is None and not took.used:
        raise Refused("minutes", "Nothing is written down.", "Enter the time, or what was used.")
    for product, amount in took.used.items():
        check_form(product, amount, field=f"used_{product.pk}")
    # Planned before it is done: afterwards the ground is closed by what was just put down.
    keep_planned_use(person, job, at=at)
    act = Act(person, took.on, at, f"Used for {job}")
    with transaction.atomic():
        if job.state == "planned":
            say_done(job, on=took.on, person=person, at=at)
        work, _ = JobWork.objects.update_or_create(
            job=job,
            defaults={
                "done_by": took.done_by,
                "minutes": took.minutes,
                "used": {
                    product.name: amount.to_the_last_digit for product, amount in took.used.items()
                },
                "entered_at": at,
            },
        )
        source = source_of_job(job)
        untake(source, [part.product for part in job.mix.parts.all()], act=act)
        take_loaded(took.used.items(), source=source, act=act)
    return work
