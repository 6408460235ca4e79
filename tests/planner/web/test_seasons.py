"""The pages of a season: what fits, what does not and why, its jobs, and the routes of the day."""

from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from planner.models import Job, KeptPlan, Machine, Mix, Product, Programme
from planner.selectors.applications import sprayed_parts_of
from planner.services.applications import Entered, record_sprayed, say_known_since
from planner.services.jobs import make_jobs
from planner.services.labels import keep_label
from planner.web.years import usual_year
from properties.core.units import Quantity
from properties.models import Outline, Person, Property

NEXT = timezone.now().year + 1


def _season(client: Client, person: Person, place: Property, programme: Programme) -> Any:
    client.force_login(person)
    address = reverse("place_season", args=[place.pk])
    return client.get(address, {"programme": programme.pk, "year": NEXT})


@pytest.fixture
def limited(product: Product, place: Property, owner: Person) -> Product:
    entered = Entered(owner, timezone.now())
    say_known_since(place, since=date(2024, 1, 1), entered=entered)
    product.per_year = Quantity(2.0, "fl oz/1000 sq ft")
    return keep_label(product, setbacks={"pond": Quantity(25.0, "ft")})


@pytest.mark.parametrize("units", ["us", "metric"])
def test_a_round_that_does_not_fit_says_what_used_up_the_year(
    client: Client,
    owner: Person,
    place: Property,
    programme: Programme,
    limited: Product,
    units: str,
) -> None:
    owner.units = units
    owner.save()

    answer = _season(client, owner, place, programme)

    text = answer.content.decode()
    assert answer.context["season"].worst == "refused"
    assert "This season does not fit as it stands" in text
    assert "planned in round 1, Spring" in text
    assert "planned in round 2, Summer" in text
    assert ("mL/100 m²" if units == "metric" else "fl oz/1,000 sq ft") in text
    assert "What the year leaves" in text


def test_the_picture_names_every_round_for_somebody_who_cannot_see_it(
    client: Client, owner: Person, place: Property, programme: Programme
) -> None:
    bars = _season(client, owner, place, programme).context["calendar"]["bars"]

    assert [bar["name"] for bar in bars] == ["Spring", "Summer", "Autumn"]
    assert all(bar["words"].endswith("fits") for bar in bars)
    # April 10 is the 100th day of a year that is no leap year: 99 days after January 1.
    leap = (date(NEXT, 3, 1) - date(NEXT, 2, 28)).days - 1
    assert bars[0]["x"] == 3 * (99 + leap)


def test_making_the_jobs_shows_them_on_the_season(
    client: Client, office: Person, place: Property, programme: Programme
) -> None:
    client.force_login(office)
    address, typed = (
        reverse("make_season", args=[place.pk]),
        {"programme": programme.pk, "year": NEXT},
    )

    client.post(address, typed)
    answer = client.post(address, typed, follow=True)

    assert Job.objects.count() == 3
    assert "3 jobs of Weeds all year stand for Small lot" in answer.content.decode()
    season = client.get(reverse("season"), {"year": NEXT}).content.decode()
    assert "3 planned" in season


def test_the_crew_makes_no_season(
    client: Client, crew: Person, place: Property, programme: Programme
) -> None:
    client.force_login(crew)

    answer = client.post(reverse("make_season", args=[place.pk]), {"programme": programme.pk})

    assert answer.status_code == 403
    assert not Job.objects.exists()


def test_a_stranger_makes_no_jobs(
    client: Client, stranger: Person, place: Property, programme: Programme
) -> None:
    client.force_login(stranger)

    assert client.post(reverse("make_season", args=[place.pk])).status_code == 404


@pytest.mark.parametrize("typed", ["", "x", "0", "9" * 40])
def test_a_programme_that_is_not_there_makes_no_jobs(
    client: Client, office: Person, place: Property, typed: str
) -> None:
    client.force_login(office)

    answer = client.post(reverse("make_season", args=[place.pk]), {"programme": typed})

    assert answer.status_code == 404


def test_a_property_without_turf_says_why_it_cannot_be_checked(
    client: Client, owner: Person, place: Property, programme: Programme
) -> None:
    Outline.objects.filter(property=place, ref="lawn").update(kind="patio")

    answer = _season(client, owner, place, programme)

    assert answer.status_code == 200
    assert answer.context["season"].worst == "unknown"
    assert "No turf is drawn" in answer.content.decode()


@pytest.mark.parametrize("year", ["", "20260", "soon", "1066"])
def test_a_year_that_cannot_be_planned_makes_no_jobs(
    client: Client, office: Person, place: Property, programme: Programme, year: str
) -> None:
    client.force_login(office)

    client.post(reverse("make_season", args=[place.pk]), {"programme": programme.pk, "year": year})

    assert not Job.objects.exists()
    shown = client.get(reverse("place_season", args=[place.pk]), {"year": year})
    assert shown.context["year"] == usual_year(timezone.localdate())


def test_a_job_is_said_to_be_done_by_the_crew(client: Client, crew: Person, job: Job) -> None:
    client.force_login(crew)

    answer = client.post(
        reverse("job", args=[job.pk]), {"said": "done", "done_on": "2026-04-12", "why": ""}
    )

    job.refresh_from_db()
    assert answer.status_code == 302
    assert (job.state, job.done_on, job.said_by) == ("done", date(2026, 4, 12), crew)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"said": "done", "done_on": ""}, "done_on"),
        ({"said": "done", "done_on": "2199-01-01"}, "done_on"),
        ({"said": "skipped", "why": " "}, "why"),
        ({"said": "lost"}, "said"),
    ],
)
def test_what_is_missing_of_a_job_is_said_at_its_field(
    client: Client, crew: Person, job: Job, typed: dict[str, str], field: str
) -> None:
    client.force_login(crew)

    answer = client.post(reverse("job", args=[job.pk]), typed)

    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    job.refresh_from_db()
    assert job.state == "planned"


@pytest.mark.parametrize("said", ["skipped", "cancelled", "planned"])
def test_a_job_may_be_left_out_or_taken_up_again(
    client: Client, crew: Person, job: Job, said: str
) -> None:
    client.force_login(crew)

    client.post(reverse("job", args=[job.pk]), {"said": said, "why": "Too dry"})

    job.refresh_from_db()
    assert job.state == said


def test_jobs_that_are_due_can_be_taken_as_lawns_of_a_route(
    client: Client, crew: Person, job: Job, mix: Mix, machine: Machine
) -> None:
    today = timezone.localdate()
    Job.objects.filter(pk=job.pk).update(from_on=today, to_on=today + timedelta(days=9))
    Job.objects.exclude(pk=job.pk).delete()
    client.force_login(crew)

    page = client.get(reverse("loads"))
    (group,), coming = page.context["due"], page.context["coming"]
    typed = {"machine": group.machine.pk, "mix": group.mix.pk, "rows": "1", "leg_1": job.place_id}
    answer = client.get(reverse("loads"), typed)

    assert [each.pk for each in group.jobs] == [job.pk]
    assert coming == []
    assert str(answer.context["form"]["leg_1"].value()) == str(job.place_id)
    assert answer.status_code == 200


def test_jobs_of_a_later_day_can_be_taken_too(client: Client, crew: Person, job: Job) -> None:
    later = timezone.localdate() + timedelta(days=40)
    Job.objects.filter(pk=job.pk).update(from_on=later, to_on=later)
    Job.objects.exclude(pk=job.pk).delete()
    client.force_login(crew)

    page = client.get(reverse("loads"))

    assert page.context["due"] == []
    assert [each.pk for each in page.context["coming"][0].jobs] == [job.pk]
    assert "Jobs that come later" in page.content.decode()


def test_a_plan_that_was_sprayed_settles_the_job_that_asked_for_it(
    kept_plan: KeptPlan, owner: Person, job: Job
) -> None:
    rates = {part.key: part.rate for part in sprayed_parts_of(kept_plan)}
    entered = Entered(owner, timezone.now())

    record_sprayed(kept_plan, applied_on=date(2026, 4, 12), rates=rates, entered=entered)

    job.refresh_from_db()
    assert (job.state, job.done_on) == ("done", date(2026, 4, 12))
    # Summer and autumn are not due on that day.
    assert Job.objects.filter(state="planned").count() == 2


def test_a_plan_that_no_job_asked_for_settles_nothing(
    kept_plan: KeptPlan, owner: Person, job: Job
) -> None:
    rates = {part.key: part.rate for part in sprayed_parts_of(kept_plan)}

    record_sprayed(
        kept_plan,
        applied_on=date(2026, 4, 9),
        rates=rates,
        entered=Entered(owner, timezone.now()),
    )

    assert Job.objects.filter(state="planned").count() == 3


def test_a_property_that_is_not_drawn_is_not_checked(
    client: Client, owner: Person, place: Property, programme: Programme
) -> None:
    Property.objects.filter(pk=place.pk).update(drawing_number=0)

    answer = _season(client, owner, place, programme)

    assert "season" not in answer.context
    assert "Draw it first" in answer.content.decode()


def test_the_season_of_a_property_begins_with_the_programme_it_has(
    client: Client, owner: Person, place: Property, programme: Programme
) -> None:
    other = Programme.objects.create(firm=owner.firm, name="Another")
    make_jobs(owner, place, programme, NEXT)
    client.force_login(owner)

    answer = client.get(reverse("place_season", args=[place.pk]), {"year": NEXT})

    assert answer.context["programme"] == programme != other


def test_late_in_a_year_the_next_one_is_planned() -> None:
    assert usual_year(date(2026, 10, 31)) == 2026
    assert usual_year(date(2026, 11, 1)) == 2027
