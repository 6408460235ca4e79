"""Keeping what a property has had: products put down, ground sown, what is known of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TypeVar

import shapely
from django.db import transaction
from shapely.geometry.base import BaseGeometry

from planner.core.label.labels import RATE_KINDS, Basis
from planner.core.request.rates import RATES
from planner.models import KeptPlan, KnownSince, Machine, PastApplication, Product, Seeding
from planner.selectors.applications import SprayedPart, amount_on, sprayed_parts_of
from planner.selectors.kept_plans import machine_of
from planner.services.jobs import settle
from planner.services.stock import Act
from planner.services.taking import source_of_application, take_loaded, untake
from properties.core.errors import Refused
from properties.core.features import KINDS, Role
from properties.core.units import Quantity
from properties.models import Person, Property
from properties.selectors.outlines import outlines_of
from properties.selectors.places import day_of_firm

LONGEST_WORDS = 300

Row = TypeVar("Row", PastApplication, Seeding)


@dataclass(frozen=True)
class Entered:
    """Who enters something, when, what they say of it, and with which machine it was done."""

    person: Person
    at: datetime
    note: str = ""
    machine: Machine | None = None

    def check_past(self, day: date, *, field: str) -> None:
        """Refuse a day that has not come yet."""
        if day > day_of_firm(self.at, self.person.firm_id):
            raise Refused(field, "This day has not come yet.", "Enter what was done, once it is.")


def record_application(
    place: Property,
    *,
    product: Product,
    rate: Quantity,
    applied_on: date,
    refs: Sequence[str],
    entered: Entered,
) -> PastApplication:
    """Enter by hand what was put down on some lawns of a property, and with what.

    Refused if the day has not come, the rate cannot be right or no lawn is named.
    """
    entered.check_past(applied_on, field="applied_on")
    _check_rate(product, rate, field="rate")
    geometry, words = _ground(place, refs)
    row = PastApplication(
        property=place,
        applied_on=applied_on,
        product=product,
        product_name=product.name,
        rate=rate,
        geometry=geometry,
        where=words,
        machine=entered.machine,
    )
    with transaction.atomic():
        return _taken(_kept(row, entered), amount_on(geometry, rate), entered)


def record_sprayed(
    kept: KeptPlan, *, applied_on: date, rates: Mapping[str, Quantity], entered: Entered
) -> list[PastApplication]:
    """Enter that a kept plan was sprayed: each product on the ground of each tool.

    ``rates`` are the rates that the ground really got, by the key of each part and product.
    The job that asked for it is done then. Refused if the plan must not be sprayed, or was
    entered for that day already.
    """
    entered.check_past(applied_on, field="applied_on")
    if kept.plan["refusals"]:
        raise Refused(
            "applied_on",
            "This plan must not be sprayed as it is.",
            "Enter by hand what was put down, and where.",
        )
    parts = sprayed_parts_of(kept)
    with transaction.atomic():
        KeptPlan.objects.select_for_update().get(pk=kept.pk)
        if kept.applications.filter(applied_on=applied_on, struck_at=None).exists():
            raise Refused(
                "applied_on",
                "This plan was entered as sprayed on that day already.",
                "Strike out the first entry if it is wrong.",
            )
        rows = [
            _kept(_application(kept, part, applied_on, rates[part.key]), entered) for part in parts
        ]
        for row, part in zip(rows, parts, strict=True):
            _taken(row, part.measured_at(row.rate), entered)
        if kept.mix is not None:
            settle(kept.property, kept.mix, on=applied_on, person=entered.person, at=entered.at)
        return rows


def _application(
    kept: KeptPlan, part: SprayedPart, applied_on: date, rate: Quantity
) -> PastApplication:
    _check_rate(part.product, rate, field=part.key)
    return PastApplication(
        property=kept.property,
        applied_on=applied_on,
        product=part.product,
        product_name=part.product.name,
        rate=rate,
        geometry=part.ground,
        where=part.where[:LONGEST_WORDS],
        how_known="plan",
        machine=machine_of(kept, part.tool),
        kept_plan=kept,
    )


def record_seeding(
    place: Property, *, sown_on: date, refs: Sequence[str], entered: Entered
) -> Seeding:
    """Enter that some lawns were sown, or will be. Refused if no lawn is named."""
    geometry, words = _ground(place, refs)
    return _kept(Seeding(property=place, sown_on=sown_on, geometry=geometry, where=words), entered)


def strike_out(row: PastApplication | Seeding, *, entered: Entered) -> None:
    """Strike out an entry that was wrong; it stays to be read and counts no more."""
    if row.struck_at is not None:
        raise Refused("why", "This entry is struck out already.", "Go back to the list.")
    row.struck_by, row.struck_at, row.struck_why = entered.person, entered.at, entered.note
    row.full_clean()
    with transaction.atomic():
        row.save()
        if isinstance(row, PastApplication):
            act = Act(entered.person, entered.at.date(), entered.at, entered.note)
            untake(source_of_application(row), [row.product], act=act)


def say_known_since(place: Property, *, since: date, entered: Entered) -> KnownSince:
    """Keep from which day on all that was put down on a property is known."""
    entered.check_past(since, field="since")
    row, _ = KnownSince.objects.update_or_create(
        property=place,
        defaults={"since": since, "said_by": entered.person, "said_at": entered.at},
    )
    return row


def _kept(row: Row, entered: Entered) -> Row:
    row.entered_by, row.entered_at, row.note = entered.person, entered.at, entered.note
    row.full_clean()
    row.save()
    return row


def _taken(row: PastApplication, amount: Quantity, entered: Entered) -> PastApplication:
    """Take what was put down from the stock, where the firm keeps books of the product."""
    act = Act(entered.person, row.applied_on, entered.at, f"Put down at {row.property}")
    take_loaded([(row.product, amount)], source=source_of_application(row), act=act)
    return row


def _check_rate(product: Product, rate: Quantity, *, field: str) -> None:
    kind = RATE_KINDS.get(rate.dimension)
    if kind is None or kind.basis is not Basis.AREA:
        raise Refused(field, f"{rate} is not a rate per area.", "Enter what the ground got.")
    told = next((each for each in (product.rate_max, product.rate_min) if each), None)
    if told is not None and RATE_KINDS[told.dimension].form is not kind.form:
        what = RATE_KINDS[told.dimension].form
        raise Refused(
            field,
            f"{rate} cannot be compared with {told} on the label: {product} is a {what} product.",
            "Enter it in the measure of the label.",
        )
    RATES[rate.dimension].check(rate, field=field)


def _ground(place: Property, refs: Sequence[str]) -> tuple[BaseGeometry, str]:
    """The ground of some lawns in degrees, and what it is called."""
    rows = [row for row in outlines_of(place) if row.ref in refs]
    lawns = [row for row in rows if KINDS[row.kind].role is Role.TURF]
    if not lawns:
        raise Refused("refs", "No lawn is chosen.", "Choose the turf it was put down on.")
    words = ", ".join(str(row) for row in lawns)
    if len(lawns) == 1:
        return lawns[0].geometry, words[:LONGEST_WORDS]
    return shapely.union_all([row.geometry for row in lawns]), words[:LONGEST_WORDS]
