"""Larkfoot Commons (invented) in the database: three lawns, a label with limits, and a past.

The days are counted back from today, and the year of the limit runs back twelve months, so
that the same ground is closed on whatever day the tests run.
"""

from datetime import UTC, datetime, timedelta

import pytest
import shapely
from django.utils import timezone

from planner.models import Machine, Mix, Product
from planner.services.applications import Entered, record_application, say_known_since
from planner.services.calibrations import record_course_calibration
from planner.services.equipment import keep_machine
from planner.services.labels import keep_label
from planner.services.mixes import keep_mix
from properties.core.units import Quantity
from properties.models import Firm, Person, Property
from properties.services.outlines import save_drawing
from properties.services.places import add_property
from tests.places import facts
from tests.planner.core.asking import area, corners_of, place
from tests.planner.core.scenarios import LARKFOOT, LARKFOOT_PATCH

SPRING = datetime(2026, 3, 2, 15, 0, tzinfo=UTC)
RATE = "fl oz/1000 sq ft"


@pytest.fixture
def commons(firm: Firm, owner: Person) -> Property:
    """The front and the back, and a patch drawn as turf of its own within the back."""
    drawn = place(
        *LARKFOOT["property"]["features"],
        area("patch", "turf", corners_of(*LARKFOOT_PATCH), name="Patch"),
    )
    lon, lat = shapely.geometry.shape(drawn["features"][0]["geometry"]).centroid.coords[0]
    where = facts(name="Larkfoot Commons", address="Hazel Ferry", longitude=lon, latitude=lat)
    added = add_property(firm=firm, facts=where)
    save_drawing(added, person=owner, at=SPRING, base=0, why="", collection=drawn)
    added.refresh_from_db()
    return added


@pytest.fixture
def plain_boom(firm: Firm, owner: Person) -> Machine:
    """A boom of 10 ft at 1.0 gal/1,000 sq ft."""
    kept = keep_machine(
        Machine(firm=firm, name="Boom", kind="boom_sprayer", swath=Quantity(10.0, "ft")),
        capacities=[Quantity(25.0, "gal")],
    )
    record_course_calibration(
        kept,
        person=owner,
        at=SPRING,
        course_length=Quantity(100.0, "ft"),
        volumes_used=[Quantity(1.0, "gal")] * 3,
    )
    return kept


@pytest.fixture
def w4(firm: Firm, owner: Person) -> Product:
    """At most 3.4 fl oz/1,000 sq ft in twelve months, every 30 days."""
    return keep_label(
        Product(
            firm=firm,
            name="W-4 (invented)",
            formulation="SL",
            rate_min=Quantity(0.8, RATE),
            rate_max=Quantity(1.5, RATE),
            per_year=Quantity(3.4, RATE),
            year="rolling",
            interval=Quantity(30.0, "day"),
            is_invented=True,
            entered_by=owner,
            entered_at=SPRING,
        ),
        setbacks={},
    )


@pytest.fixture
def past(commons: Property, owner: Person, w4: Product) -> None:
    """1.2 everywhere 87 days ago, on the front 47 days ago, on the patch 28 days ago."""
    now = timezone.now()
    for days, refs in ((87, ["front", "back"]), (47, ["front"]), (28, ["patch"])):
        record_application(
            commons,
            product=w4,
            rate=Quantity(1.2, RATE),
            applied_on=now.date() - timedelta(days=days),
            refs=refs,
            entered=Entered(owner, now),
        )
    since = now.date() - timedelta(days=800)
    say_known_since(commons, since=since, entered=Entered(owner, now))


def mix_at(w4: Product, rate: float) -> Mix:
    """The label alone in a mix."""
    return keep_mix(Mix(firm=w4.firm, name=f"W-4 at {rate}"), parts=[(w4, Quantity(rate, RATE))])
