"""What a job took, written down and set beside its plan."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from django.test import Client
from django.urls import reverse

from planner.models import (
    Job,
    JobWork,
    Lot,
    Movement,
    PriceBook,
    Product,
    Programme,
    QuoteAnswer,
    StockEntry,
)
from planner.selectors.leaks import NOBODY, leaks_of
from planner.services.applications import Entered, record_application
from planner.services.job_work import Took, record_job_work
from planner.services.jobs import make_jobs, say_done
from planner.web.leak_picture import leak_bars
from properties.core.errors import Refused
from properties.core.units import Quantity
from properties.models import Person, Property

NOON = datetime(2026, 4, 20, 12, 0, tzinfo=UTC)
APRIL_20 = NOON.date()


@pytest.fixture
def spring(owner: Person, place: Property, programme: Programme) -> Job:
    return make_jobs(owner, place, programme, 2026, at=NOON)[0]


def _took(crew: Person, product: Product, fl_oz: float, minutes: int | None = 60) -> Took:
    return Took(crew, APRIL_20, minutes, {product: Quantity(fl_oz, "fl oz")})


def test_what_a_job_took_is_kept_and_taken_from_the_stock(
    owner: Person, crew: Person, spring: Job, lot: Lot
) -> None:
    record_job_work(spring, _took(crew, lot.product, 5.0), person=owner, at=NOON)

    spring.refresh_from_db()
    assert (spring.state, spring.done_on) == ("done", APRIL_20)
    assert Movement.objects.get(entry__job=spring).amount.value == pytest.approx(-5)


def test_told_again_the_new_amount_stands_instead_of_the_old(
    owner: Person, crew: Person, spring: Job, lot: Lot
) -> None:
    for amount in (5.0, 6.5):
        record_job_work(spring, _took(crew, lot.product, amount), person=owner, at=NOON)

    assert JobWork.objects.get().used == {lot.product.name: "6.5 fl oz"}
    left = sum(line.amount.to("fl oz").value for line in Movement.objects.all())
    assert left == pytest.approx(128 - 6.5)
    assert StockEntry.objects.filter(kind="loaded").count() == 2


def test_an_empty_record_is_refused(owner: Person, spring: Job) -> None:
    with pytest.raises(Refused, match="Nothing is written down"):
        record_job_work(spring, Took(owner, APRIL_20), person=owner, at=NOON)

    product = spring.mix.parts.all()[0].product
    wrong = Took(owner, APRIL_20, used={product: Quantity(3.0, "lb")})
    with pytest.raises(Refused, match="measured by volume"):
        record_job_work(spring, wrong, person=owner, at=NOON)


@pytest.mark.usefixtures("price_book", "containers")
def test_used_beyond_the_plan_is_found_by_property_product_and_crew(
    owner: Person, crew: Person, spring: Job, product: Product
) -> None:
    record_job_work(spring, _took(crew, product, 40.0), person=owner, at=NOON)

    told = leaks_of(owner, since=APRIL_20, until=APRIL_20)

    (job,) = told.jobs
    assert job.visit.used.material == {product.name: Decimal("20.00")}  # of 320 at 160.00
    assert job.visit.used.time == Decimal("36.00")  # an hour at 36.00
    assert {leak.group for leak in told.groups["crew"]} == {"Quill"}
    by_place = told.groups["property"][0].work.money
    assert by_place is not None
    assert by_place == sum(leak.work.money or 0 for leak in told.groups["product"])
    assert "not of a quote" in job.gaps


def test_without_a_book_or_a_record_nothing_is_zero(owner: Person, spring: Job) -> None:
    say_done(spring, on=APRIL_20, person=owner, at=NOON)

    told = leaks_of(owner, since=APRIL_20, until=APRIL_20)

    assert told.money is None
    assert not told.has_book
    (job,) = told.jobs
    assert job.gaps == (
        "not of a quote",
        "not planned beforehand",
        "product not recorded",
        "time not recorded",
    )


def test_what_the_place_had_on_that_day_is_what_was_used(
    owner: Person, spring: Job, place: Property, product: Product, price_book: PriceBook
) -> None:
    record_application(
        place,
        product=product,
        rate=Quantity(0.8, "fl oz/1000 sq ft"),
        applied_on=APRIL_20,
        refs=["lawn"],
        entered=Entered(owner, NOON),
    )
    say_done(spring, on=APRIL_20, person=owner, at=NOON)

    (job,) = leaks_of(owner, since=APRIL_20, until=APRIL_20).jobs

    assert "product not recorded" not in job.gaps
    assert job.visit.crew == str(owner) != NOBODY


def test_a_done_job_is_written_down_on_its_page(
    client: Client, crew: Person, spring: Job, lot: Lot
) -> None:
    client.force_login(crew)
    address = reverse("job_work", args=[spring.pk])
    today = datetime.now(tz=UTC).date() - timedelta(days=1)
    boxes = {f"used_{lot.product_id}_0": "4.5", f"used_{lot.product_id}_1": "fl oz"}

    empty = client.post(address, {"on": today.isoformat(), "done_by": crew.pk})
    done = client.post(
        address, boxes | {"on": today.isoformat(), "done_by": crew.pk, "minutes": "35"}
    )

    assert empty.status_code == 422
    assert "Nothing is written down" in empty.content.decode()
    assert done.status_code == 302
    assert JobWork.objects.get(job=spring).minutes == 35


@pytest.mark.usefixtures("price_book", "containers")
def test_the_page_tells_the_leak_with_its_picture(
    client: Client, owner: Person, crew: Person, spring: Job, product: Product
) -> None:
    record_job_work(spring, _took(crew, product, 40.0), person=owner, at=NOON)
    now = datetime.now(tz=UTC)
    Job.objects.filter(pk=spring.pk).update(done_on=now.date())
    client.force_login(owner)

    page = client.get(reverse("leaks")).content.decode()

    assert "more went out than was reckoned with" in page
    assert "leak-work" in page
    assert "few visits" in page
    assert "not recorded" in page


def test_a_picture_of_nothing_known_is_none() -> None:
    assert leak_bars([]) is None


def test_an_accepted_quote_is_compared_as_it_was_frozen(
    owner: Person, crew: Person, accepted: QuoteAnswer, product: Product
) -> None:
    job = Job.objects.filter(quote_option=accepted.option).order_by("from_on")[0]
    at = datetime.combine(job.from_on, datetime.min.time(), tzinfo=UTC)
    took = Took(crew, job.from_on, 30, {product: Quantity(4.0, "fl oz")})
    record_job_work(job, took, person=owner, at=at)

    told = leaks_of(owner, since=job.from_on, until=job.from_on)

    (stages,) = told.jobs
    assert stages.visit.quoted.material.keys() == stages.visit.planned.material.keys() != set()
    assert stages.visit.quoted.area_m2 == pytest.approx(stages.visit.planned.area_m2, rel=1e-6)
    (leak,) = told.groups["property"]
    assert leak.quote.visits == 1
    assert stages.gaps == ()
