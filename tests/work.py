"""An invented machine, label, mix and kept plan for page tests."""

from datetime import UTC, date, datetime

import pytest

from planner.models import (
    BlackoutRule,
    KeptPlan,
    Machine,
    Mix,
    NutrientLimit,
    PastApplication,
    PatternTest,
    Product,
    Seeding,
)
from planner.selectors.plans import Asked
from planner.services.applications import Entered, record_application, record_seeding
from planner.services.blackouts import set_blackout
from planner.services.calibrations import record_course_calibration
from planner.services.equipment import keep_machine
from planner.services.labels import keep_label
from planner.services.mixes import keep_mix
from planner.services.nutrients import set_nutrient_limit
from planner.services.patterns import record_pattern
from planner.services.plans import keep_plan
from planner.services.spreaders import keep_spreader
from properties.core.units import Quantity
from properties.models import Firm, Person, Property

DONE_AT = datetime(2026, 4, 6, 11, 0, tzinfo=UTC)
KEPT_AT = datetime(2026, 4, 8, 12, 15, tzinfo=UTC)


@pytest.fixture
def machine(firm: Firm, owner: Person) -> Machine:
    """A boom of 10 ft with two tanks, calibrated at 0.71 gal/1,000 sq ft."""
    kept = keep_machine(
        Machine(firm=firm, name="Ride-on", kind="boom_sprayer", swath=Quantity(10.0, "ft")),
        capacities=[Quantity(25.0, "gal"), Quantity(12.0, "gal")],
    )
    record_course_calibration(
        kept,
        person=owner,
        at=DONE_AT,
        course_length=Quantity(100.0, "ft"),
        volumes_used=[Quantity(volume, "gal") for volume in (0.72, 0.70, 0.71)],
    )
    return kept


@pytest.fixture
def pattern_test(machine: Machine, owner: Person) -> PatternTest:
    """A pattern of eleven pans a foot apart that leans to the left."""
    return record_pattern(
        PatternTest(
            machine=machine,
            done_by=owner,
            done_at=DONE_AT,
            pan_spacing=Quantity(1.0, "ft"),
            unit="g",
            catches=[0.2, 1.0, 2.2, 3.4, 4.2, 4.4, 4.0, 3.0, 1.8, 0.8, 0.2],
        )
    )


@pytest.fixture
def hand_gun(firm: Firm, owner: Person) -> Machine:
    """A hand gun of 5 ft, calibrated at 2.2 gal/1,000 sq ft."""
    kept = keep_machine(
        Machine(firm=firm, name="Hand gun", kind="hand_gun", swath=Quantity(5.0, "ft")),
        capacities=[Quantity(100.0, "gal")],
    )
    record_course_calibration(
        kept,
        person=owner,
        at=DONE_AT,
        course_length=Quantity(200.0, "ft"),
        volumes_used=[Quantity(2.2, "gal")] * 3,
    )
    return kept


@pytest.fixture
def spreader(firm: Firm) -> Machine:
    """A rotary spreader of 10 ft without a catch test."""
    return keep_spreader(
        Machine(firm=firm, name="Spreader", kind="rotary_spreader", swath=Quantity(10.0, "ft"))
    )


@pytest.fixture
def nutrient_limit(owner: Person) -> NutrientLimit:
    """At most 0.9 lb of N per 1,000 sq ft and application, from the founding of the firm."""
    limit = NutrientLimit(
        nutrient="N",
        per="application",
        at_most=Quantity(0.9, "lb/1000 sq ft"),
        source="Invented state law",
        from_on=DONE_AT.date(),
    )
    return set_nutrient_limit(person=owner, limit=limit, at=DONE_AT)


@pytest.fixture
def product(firm: Firm, owner: Person) -> Product:
    """An invented herbicide: 0.65 to 1.00 fl oz/1,000 sq ft, 25 ft from a pond."""
    return keep_label(
        Product(
            firm=firm,
            name="Invented broadleaf herbicide",
            formulation="SL",
            rate_min=Quantity(0.65, "fl oz/1000 sq ft"),
            rate_max=Quantity(1.0, "fl oz/1000 sq ft"),
            is_invented=True,
            entered_by=owner,
            entered_at=DONE_AT,
        ),
        setbacks={"pond": Quantity(25.0, "ft")},
    )


@pytest.fixture
def mix(firm: Firm, owner: Person, product: Product) -> Mix:
    """The herbicide at 0.80 fl oz/1,000 sq ft with a quarter percent of surfactant."""
    surfactant = keep_label(
        Product(
            firm=firm,
            name="Invented surfactant",
            formulation="adjuvant",
            is_invented=True,
            entered_by=owner,
            entered_at=DONE_AT,
        ),
        setbacks={},
    )
    return keep_mix(
        Mix(firm=firm, name="Broadleaf weeds"),
        parts=[
            (product, Quantity(0.8, "fl oz/1000 sq ft")),
            (surfactant, Quantity(0.25, "%")),
        ],
    )


@pytest.fixture
def kept_plan(owner: Person, place: Property, machine: Machine, mix: Mix) -> KeptPlan:
    """The small lot planned with the ride-on and the herbicide, in a west wind of 6 mph."""
    return keep_plan(
        Asked(
            place=place, machine=machine, mix=mix, wind_speed=Quantity(6.0, "mph"), wind_from="W"
        ),
        person=owner,
        at=KEPT_AT,
        question=f"machine={machine.pk}&mix={mix.pk}&wind_speed_0=6&wind_speed_1=mph&wind_from=W",
        note="For Wednesday",
    )


@pytest.fixture
def application(owner: Person, place: Property, product: Product) -> PastApplication:
    """The herbicide at 0.8 fl oz/1,000 sq ft on the lawn, on April 1."""
    return record_application(
        place,
        product=product,
        rate=Quantity(0.8, "fl oz/1000 sq ft"),
        applied_on=date(2026, 4, 1),
        refs=["lawn"],
        entered=Entered(owner, DONE_AT),
    )


@pytest.fixture
def seeding(owner: Person, place: Property) -> Seeding:
    """The lawn, sown in March."""
    return record_seeding(
        place, sown_on=date(2026, 3, 10), refs=["lawn"], entered=Entered(owner, DONE_AT)
    )


@pytest.fixture
def blackout(firm: Firm, owner: Person) -> BlackoutRule:
    """No nitrogen in winter."""
    return set_blackout(
        BlackoutRule(
            firm=firm, substance="N", from_day="12-01", to_day="03-01", source="Invented county"
        ),
        person=owner,
        at=DONE_AT,
    )
