"""The day of a page is the firm's own: an evening in Ohio is not tomorrow."""

from datetime import UTC, date, datetime

import pytest
from django.utils import timezone

from properties.models import Person, Property
from properties.web.access import PersonRequest, today_of


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("zone", "day"), [("America/New_York", 28), ("Pacific/Auckland", 1), ("UTC", 1)]
)
def test_an_evening_belongs_to_the_day_where_the_firm_works(
    owner: Person, place: Property, monkeypatch: pytest.MonkeyPatch, zone: str, day: int
) -> None:
    place.time_zone = zone
    place.save()
    request = PersonRequest()
    request.user = owner
    # Half past nine in the evening of February 28 on the American east coast.
    now = datetime(2026, 3, 1, 2, 30, tzinfo=UTC)
    monkeypatch.setattr(timezone, "now", lambda: now)

    assert today_of(request) == date(2026, 2 if day == 28 else 3, day)
