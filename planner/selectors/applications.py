"""What a property has had, as a plan request tells it, and what a spot may still get."""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import shapely
from django.db.models import Q, QuerySet
from shapely.geometry.base import BaseGeometry

from planner.core.put_down import put_down
from planner.models import BlackoutRule, KeptPlan, KnownSince, PastApplication, Product, Seeding
from planner.selectors.labels import fertilizer_as_asked, label_as_asked
from planner.selectors.names import named
from planner.selectors.nutrients import FEEDING_FORMS
from planner.selectors.products import products_of
from properties.core.features import KINDS, Role
from properties.core.frame import frame_around
from properties.core.outlines import write_drawing
from properties.core.units import Quantity, quantity_of_si
from properties.models import Person, Property
from properties.selectors.outlines import drawing_of

Json = dict[str, Any]

#: Nothing older can matter: the longest interval and the longest year are shorter.
LONGEST_MEMORY = timedelta(days=1500)
MOST_APPLICATIONS = 500
#: A rate that was typed with four decimals is the rate that was shown with them.
SAME_RATE = 1e-3


def applications_at(place: Property) -> QuerySet[PastApplication]:
    """List everything that was entered for a property, struck out or not, the newest first."""
    return PastApplication.objects.filter(property=place).select_related(
        "product", "entered_by", "struck_by", "kept_plan"
    )


def applications_of(person: Person) -> QuerySet[PastApplication]:
    """List the applications on all properties of a person's firm."""
    return PastApplication.objects.filter(property__firm=person.firm_id).select_related("property")


def seedings_of(person: Person) -> QuerySet[Seeding]:
    """List the seedings on all properties of a person's firm."""
    return Seeding.objects.filter(property__firm=person.firm_id).select_related("property")


def seedings_at(place: Property) -> QuerySet[Seeding]:
    """List what was or will be sown on a property, struck out or not."""
    return Seeding.objects.filter(property=place).select_related("entered_by", "struck_by")


def blackouts_of(person: Person) -> QuerySet[BlackoutRule]:
    """List the blackout dates of a person's firm."""
    return BlackoutRule.objects.filter(firm=person.firm_id).select_related(
        "product", "only_at", "checked_by"
    )


def lawns_of(place: Property) -> list[tuple[str, str]]:
    """List the turf of a property as it is drawn now, by ref and name."""
    drawn = named(write_drawing(drawing_of(place)))["features"]
    return [
        (shape["id"], shape["properties"]["name"])
        for shape in drawn
        if KINDS[shape["properties"]["kind"]].role is Role.TURF
    ]


def known_since(place: Property) -> date | None:
    """Find from which day on it is known what a property has had; None where nobody says.

    Where nobody has said so, it is known from the first entry on.
    """
    said = KnownSince.objects.filter(property=place).first()
    if said is not None:
        return said.since
    first = applications_at(place).filter(struck_at=None).order_by("applied_on").first()
    return None if first is None else first.applied_on


def past_of(place: Property, day: date) -> Json:
    """Write what is known of a property's past, with its rules, as a plan request has it."""
    told: Json = {}
    since = known_since(place)
    if since is not None:
        told["history"] = [_application(row) for row in _counting(place, day)]
        told["history_since"] = since.isoformat()
    rules = BlackoutRule.objects.filter(
        Q(only_at=None) | Q(only_at=place), firm=place.firm_id
    ).select_related("firm", "product")
    if blackouts := [_blackout(rule) for rule in rules]:
        told["blackouts"] = blackouts
    near = Seeding.objects.filter(property=place, struck_at=None, sown_on__gte=day - LONGEST_MEMORY)
    if seedings := [_seeding(row) for row in near]:
        told["seedings"] = seedings
    return told


def _counting(place: Property, day: date) -> Iterable[PastApplication]:
    rows = applications_at(place).filter(
        struck_at=None, applied_on__lte=day, applied_on__gte=day - LONGEST_MEMORY
    )
    return reversed(rows[:MOST_APPLICATIONS])


def _application(row: PastApplication) -> Json:
    return {
        "on": row.applied_on.isoformat(),
        "product": row.product_name,
        "rate": row.rate.to_the_last_digit,
        "where": geojson(row.geometry),
    } | contents_of(row.product)


def contents_of(product: Product) -> Json:
    """Write what is in a product as an application of the past tells it."""
    label = label_as_asked(product)
    told: Json = {}
    if ingredients := label.get("active_ingredients"):
        told["active_ingredients"] = [
            {"name": each["name"], "content": each["content"]} for each in ingredients
        ]
    if "density" in label and (ingredients or product.grade):
        told["density"] = label["density"]
    return told | _fertilizer(product)


def _fertilizer(product: Product) -> Json:
    """What it holds of nutrients: its grade, nothing if it is mixed and none, else unknown."""
    if product.grade:
        return {"fertilizer": fertilizer_as_asked(product)}
    may_be_one = product.formulation in {"", *FEEDING_FORMS}
    return {} if may_be_one else {"fertilizer": False}


def _seeding(row: Seeding) -> Json:
    return {"on": row.sown_on.isoformat(), "where": geojson(row.geometry)}


def _blackout(rule: BlackoutRule) -> Json:
    what = {"product": rule.product.name} if rule.product else {"substance": rule.substance}
    told: Json = what | {
        "from": rule.from_day,
        "to": rule.to_day,
        "source": f"{rule.firm.name}: {rule.source}",
    }
    return told if rule.checked_by_id else told | {"example": True}


def geojson(geometry: BaseGeometry) -> Json:
    """Write a geometry as GeoJSON of plain lists."""
    written: Json = json.loads(json.dumps(shapely.geometry.mapping(geometry)))
    return written


@dataclass(frozen=True)
class SprayedPart:
    """One product of one tool of a kept plan: on which ground, at which rate.

    ``measured`` is what was measured out for it.
    """

    key: str
    product: Product
    ground: BaseGeometry
    rate: Quantity
    where: str
    measured: Quantity
    tool: str = "machine"

    def measured_at(self, rate: Quantity) -> Quantity:
        """What was measured out where the ground really got another rate than was planned."""
        share = rate.si / self.rate.si
        if abs(share - 1) < SAME_RATE:
            return self.measured
        return quantity_of_si(self.measured.si * share, self.measured.unit)


def sprayed_parts_of(kept: KeptPlan) -> list[SprayedPart]:
    """List what was put down if a kept plan was sprayed as it stands.

    Products whose label the firm no longer has are left out.
    """
    products = {row.name: row for row in Product.objects.filter(firm=kept.property.firm_id)}
    words = {"": "", "machine": ", by the machine", "hand_tool": ", by hand"}
    where = f"Treatable ground of the plan kept on {kept.made_at:%b %-d %Y}"
    return [
        SprayedPart(
            f"rate_{number}",
            products[each.product],
            each.ground,
            each.rate,
            where + words[each.tool],
            each.measured,
            each.tool,
        )
        for number, each in enumerate(put_down(kept.plan), start=1)
        if each.product in products
    ]


def amount_on(ground: BaseGeometry, rate: Quantity) -> Quantity:
    """Work out how much of a product a rate puts on ground in degrees, as the map has it."""
    area_m2 = frame_around([ground]).to_plane(ground).area
    return quantity_of_si(area_m2 * rate.si, rate.unit.split("/")[0])


def limited_products(person: Person, place: Property) -> list[Json]:
    """List, as items of a mix, the products whose label limits what one place may get."""
    had = set(applications_at(place).values_list("product_id", flat=True))
    return [
        item
        for product in products_of(person)
        if (item := _item(product)) and (_is_limited(item["label"]) or product.pk in had)
    ]


def _item(product: Product) -> Json | None:
    label = label_as_asked(product)
    limits = label.get("limits", {})
    told = (label.get("rate_max"), label.get("rate_min"), limits.get("per_year"))
    rate = next((each for each in told if each), None)
    return None if rate is None else {"name": product.name, "rate": rate, "label": label}


def _is_limited(label: Json) -> bool:
    own = set(label.get("limits", {})) - {"year", "season_from"}
    inside = (
        {"per_application", "per_year"} & set(each) for each in label.get("active_ingredients", ())
    )
    return bool(own or label.get("seeding")) or any(inside)
