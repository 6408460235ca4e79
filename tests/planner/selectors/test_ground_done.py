"""The ground done with a machine since its calibration, summed from what was recorded."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from django.test import Client
from django.urls import reverse
from pyproj import Geod

from planner.models import (
    CalibrationRule,
    Fittings,
    KeptPlan,
    Machine,
    Mix,
    PastApplication,
    Product,
)
from planner.selectors.applications import sprayed_parts_of
from planner.selectors.calibrations import fittings_row, lasting_of, newest_calibration
from planner.selectors.ground_done import done_since, ground_done_since
from planner.selectors.plans import Asked, plan_for, request_for
from planner.services.applications import (
    Entered,
    record_application,
    record_sprayed,
    strike_out,
)
from planner.services.calibrations import keep_fittings, note_ground_done
from planner.services.spreaders import Runs, record_catch_tests
from properties.core.units import Quantity
from properties.models import Person, Property
from tests.work import DONE_AT

RATE = Quantity(0.8, "fl oz/1000 sq ft")


def done(
    place: Property, product: Product, person: Person, machine: Machine | None, day: date
) -> PastApplication:
    entered = Entered(person, DONE_AT + timedelta(days=400), machine=machine)
    return record_application(
        place, product=product, rate=RATE, applied_on=day, refs=["lawn"], entered=entered
    )


def ellipsoid_m2(row: PastApplication) -> float:
    area, _ = Geod(ellps="WGS84").geometry_area_perimeter(row.geometry)
    return abs(float(area))


@pytest.fixture
def calibrated_on(machine: Machine) -> date:
    made = newest_calibration(machine)
    assert made is not None
    return made.done_at.date()


def test_a_mix_of_two_products_is_one_drive_over_the_ground(
    place: Property, product: Product, owner: Person, machine: Machine, calibrated_on: date
) -> None:
    row = done(place, product, owner, machine, calibrated_on)
    done(place, product, owner, machine, calibrated_on)
    done(place, product, owner, machine, calibrated_on + timedelta(days=30))

    found = ground_done_since(machine, calibrated_on)

    assert found.area is not None
    # By the ellipsoid itself: twice the lawn, whatever was in the tank.
    assert found.area.si == pytest.approx(2 * ellipsoid_m2(row), rel=1e-6)
    assert found.untold == 0
    assert found.working is not None
    assert found.working.result == found.area
    assert sum(each.quantity.value for each in found.working.inputs) == pytest.approx(
        found.area.value
    )


def test_only_this_machine_from_that_day_to_that_day_counts_and_nothing_struck_out(
    place: Property,
    product: Product,
    owner: Person,
    machine: Machine,
    hand_gun: Machine,
    calibrated_on: date,
) -> None:
    before, after = (calibrated_on + timedelta(days=days) for days in (-1, 40))
    done(place, product, owner, machine, before)
    done(place, product, owner, machine, after)
    done(place, product, owner, hand_gun, calibrated_on)
    wrong = done(place, product, owner, machine, calibrated_on)
    strike_out(wrong, entered=replace(Entered(owner, DONE_AT), note="another lawn"))

    assert ground_done_since(machine, calibrated_on, until=calibrated_on).area is None
    assert len(ground_done_since(machine, calibrated_on).visits) == 1


def test_an_entry_without_a_machine_is_unknown_and_not_nothing(
    place: Property,
    product: Product,
    owner: Person,
    machine: Machine,
    mix: Mix,
    calibrated_on: date,
) -> None:
    CalibrationRule.objects.create(firm=machine.firm, good_for_area=Quantity(40.0, "acre"))
    asked = Asked(place=place, machine=machine, mix=mix)
    done(place, product, owner, None, calibrated_on)

    nothing = request_for(owner, asked, day=calibrated_on)["machine"]["calibration"]
    done(place, product, owner, machine, calibrated_on)
    request = request_for(owner, asked, day=calibrated_on)

    assert "area_since" not in nothing
    assert request["machine"]["calibration"]["area_since_is_least"] is True
    found = [each for each in plan_for(request)["warnings"] if "does not say" in each["message"]]
    assert [each["code"] for each in found] == ["calibration_area_unknown"]


def test_what_was_told_comes_on_top_of_what_is_recorded(
    client: Client,
    place: Property,
    product: Product,
    owner: Person,
    machine: Machine,
    calibrated_on: date,
) -> None:
    CalibrationRule.objects.create(firm=machine.firm, good_for_area=Quantity(40.0, "acre"))
    made = newest_calibration(machine)
    assert made is not None
    note_ground_done(made, area=Quantity(39.99, "acre"))
    row = done(place, product, owner, machine, calibrated_on)

    area = done_since(made).area
    assert area is not None
    assert area.si == pytest.approx(Quantity(39.99, "acre").si + ellipsoid_m2(row), rel=1e-6)
    lasting = lasting_of(machine, fittings_row(machine))
    assert lasting.has_ended(made, on=calibrated_on) is (area.value > 40)
    client.force_login(owner)
    page = client.get(made.get_absolute_url()).content.decode()
    assert "Ground done since the calibration" in page
    assert place.name in page


def test_a_kept_plan_that_was_sprayed_tells_its_machine(
    kept_plan: KeptPlan, owner: Person, machine: Machine
) -> None:
    rows = record_sprayed(
        kept_plan,
        applied_on=kept_plan.made_at.date(),
        rates={part.key: part.rate for part in sprayed_parts_of(kept_plan)},
        entered=Entered(owner, kept_plan.made_at + timedelta(days=1)),
    )

    assert {row.machine for row in rows} == {machine}


def test_the_machine_is_chosen_where_an_application_is_entered_by_hand(
    client: Client, crew: Person, place: Property, product: Product, machine: Machine
) -> None:
    client.force_login(crew)
    typed = {
        "applied_on": DONE_AT.date().isoformat(),
        "product": product.pk,
        "rate_0": "0.8",
        "rate_1": "fl oz/1000 sq ft",
        "refs": ["lawn"],
        "machine": machine.pk,
        "note": "",
    }

    client.post(reverse("new_application", args=[place.pk]), typed)

    assert PastApplication.objects.get().machine == machine


def test_a_spreader_tells_the_day_the_pace_and_the_ground_of_its_catch_test(
    client: Client,
    owner: Person,
    place: Property,
    spreader: Machine,
) -> None:
    granule = Product.objects.create(
        firm=spreader.firm,
        name="Invented granule",
        formulation="G",
        rate_max=Quantity(3.0, "lb/1000 sq ft"),
        is_invented=True,
        entered_at=DONE_AT,
    )
    granule_mix = Mix.objects.create(firm=spreader.firm, name="Invented feed alone")
    granule_mix.parts.create(position=1, product=granule, rate=Quantity(2.5, "lb/1000 sq ft"))
    CalibrationRule.objects.create(firm=spreader.firm, good_for_area=Quantity(40.0, "acre"))
    fittings = keep_fittings(Fittings(machine=spreader, pace="A brisk walk"))
    runs = Runs(granule, 14, Quantity(1000.0, "sq ft"), (Quantity(2.5, "lb"),))
    record_catch_tests(spreader, runs, person=owner, at=DONE_AT)
    asked = Asked(place=place, machine=spreader, mix=granule_mix)

    told = request_for(owner, asked, day=DONE_AT.date())["machine"]
    fittings.pace = "A slow walk"
    keep_fittings(fittings)
    changed = plan_for(request_for(owner, asked, day=DONE_AT.date()))

    assert told["calibration"]["done_on"] == DONE_AT.date().isoformat()
    assert told["calibration"]["set_up"] == {"pace": "A brisk walk"}
    assert told["calibration"]["good_for_area"] == "40 acre"
    assert told["set_up"] == {"pace": "A brisk walk"}
    assert "calibration_void" in {each["code"] for each in changed["refusals"]}
    client.force_login(owner)
    assert "Nozzles" not in client.get(reverse("fittings", args=[spreader.pk])).content.decode()
