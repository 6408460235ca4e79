"""Labels as a plan request tells them, and what changed from one version to the next."""

from collections.abc import Iterable
from typing import Any

from planner.core.checks.slips import slip_findings
from planner.core.differences import Difference, differences
from planner.core.label.labels import EVERY_KIND, Label, Limits
from planner.core.mix.mixing import ADJUVANT_TOKENS, ANY_ADJUVANT
from planner.core.mix.products import Product as PlannedProduct
from planner.models import LabelLine, LabelSetback, LabelVersion, MixPart, Product
from properties.core.errors import Refused
from properties.core.turfgrasses import TURFGRASSES
from properties.core.units import Quantity

Json = dict[str, Any]

TURFGRASSES_TO_CHOOSE = list(TURFGRASSES.items())
ADJUVANTS_TO_CHOOSE = [
    (token, "Any adjuvant" if token == ANY_ADJUVANT else token[:1].upper() + token[1:])
    for token in ADJUVANT_TOKENS
]

#: Facts that stand in the request under their own names.
QUANTITIES = (
    *("rate_min", "rate_max", "carrier_min", "carrier_max"),
    *("wind_min", "wind_max", "temperature_min", "temperature_max"),
    *("rain_fast", "irrigation_hold", "keep_off", "density"),
    *("strongest_in_water", "least_in_spray", "spot_share_max"),
)
WORDS = (
    *("registration_number", "signal_word", "finest_droplets", "coarsest_droplets"),
    *("protection", "mixing_notes", "tolerance", "adjuvants", "active_ingredients"),
)
#: Facts that are told only where they are so.
SIMPLY_SO = ("until_dry", "spot_rate_over_all", "kills_turf")
#: Facts that stand in an object of the request, by the object and its members.
NESTED = {
    "water_in": {"depth": "water_in_depth", "within": "water_in_within"},
    "seeding": {"after": "seeding_after", "before": "seeding_before"},
    "limits": {
        "per_application": "per_application",
        "per_year": "per_year",
        "uses_per_year": "uses_per_year",
        "interval": "interval",
    },
}


def label_as_asked(
    product: Product,
    line: LabelLine | None = None,
    *,
    setbacks: Iterable[LabelSetback] | None = None,
) -> Json:
    """Write the label of a product as a plan request has it, at one line of its table.

    ``setbacks`` stand in for the rows of a product that is not kept yet.
    """
    label: Json = _told({name: getattr(product, name) for name in (*QUANTITIES, *WORDS)})
    label |= {name: True for name in SIMPLY_SO if getattr(product, name)}
    for name, members in NESTED.items():
        inner = _told({member: getattr(product, column) for member, column in members.items()})
        if inner:
            label[name] = inner
    if "limits" in label:
        label["limits"] |= _year(product)
    if distances := _setbacks(product.setbacks.all() if setbacks is None else setbacks):
        label["setbacks"] = distances
    if line is not None:
        label |= _told(
            {
                "use": line.use,
                "turf": line.turf,
                "rate_min": line.rate_min,
                "rate_max": line.rate_max,
            }
        )
    return label


def mix_item(part: MixPart) -> Json:
    """Write one product of a mix as a plan request has it."""
    product, label = part.product, label_as_asked(part.product, part.line)
    version = newest_version(product)
    if version is not None:
        label["version"] = version.number
    rate = part.rate.to_the_last_digit
    described: Json = {"name": product.name}
    described |= {"nutrient_target": {part.nutrient: rate}} if part.nutrient else {"rate": rate}
    if product.grade:
        described["fertilizer"] = fertilizer_as_asked(product)
    if product.formulation:
        described["formulation"] = product.formulation
    return described | ({"label": label} if label else {})


def fertilizer_as_asked(product: Product) -> Json:
    """Write what a fertilizer holds as a plan request has it; nothing where it is none."""
    return _told({name: getattr(product, name) for name in ("grade", "slow_release", "bag")})


def facts_of(product: Product) -> Json:
    """Write everything that a label says, to be frozen as a version."""
    known: Json = {
        "name": product.name,
        "purpose": product.purpose,
        "formulation": product.formulation,
        "invented": product.is_invented,
        **fertilizer_as_asked(product),
        **label_as_asked(product),
    }
    known["lines"] = [
        {"name": str(line)} | _told({"rate_min": line.rate_min, "rate_max": line.rate_max})
        for line in product.lines.all()
    ]
    return {name: value for name, value in known.items() if value not in ("", [], False)}


def newest_version(product: Product) -> LabelVersion | None:
    """Find what the label says now, as it was frozen."""
    return product.versions.select_related("entered_by", "checked_by").first()


def refuse_unchecked(products: Iterable[Product]) -> None:
    """Refuse a label that no second person has compared yet."""
    for product in products:
        version = newest_version(product)
        if version is None or version.checked_at is None:
            who = "somebody who has left" if version is None else version.entered_by or "somebody"
            raise Refused(
                "mix",
                f"The label of {product} was entered by {who} and nobody else has compared it yet.",
                "Let somebody else hold the label in their hand, open its page here and confirm "
                "it. Your firm asks for this second look.",
            )


def rate_kind(rate: Quantity) -> str:
    """Say what kind of rate a quantity is; two of one kind can be compared."""
    kind = EVERY_KIND.get(rate.dimension)
    return rate.dimension.value if kind is None else str(kind)


def slip_words(rate: Quantity, lowest: Quantity | None, highest: Quantity | None) -> str:
    """Say which slip a rate outside its label looks like, or nothing."""
    found = slip_findings(PlannedProduct("", rate, Label(rate=Limits(lowest, highest)))).refusals
    return "".join(f" {refusal.message.removeprefix(': ')}" for refusal in found)


def version_changes(product: Product) -> list[tuple[LabelVersion, tuple[Difference, ...]]]:
    """List the versions of a label, newest first, each with what differs from the one before."""
    versions = list(product.versions.select_related("entered_by", "checked_by"))
    before = [*versions[1:], None]
    return [
        (
            version,
            () if older is None else differences({"label": older.facts}, {"label": version.facts}),
        )
        for version, older in zip(versions, before, strict=True)
    ]


def _told(facts: Json) -> Json:
    """Leave out what nobody copied, and spell quantities to the last digit."""
    return {
        name: value.to_the_last_digit if isinstance(value, Quantity) else value
        for name, value in facts.items()
        if value not in (None, "", [], {})
    }


def _year(product: Product) -> Json:
    season = {"season_from": product.season_from} if product.season_from else {}
    return {"year": product.year} | season


def _setbacks(rows: Iterable[LabelSetback]) -> Json:
    told: Json = {}
    for row in rows:
        inner = told.setdefault(row.kind, {})
        inner[row.method or "distance"] = row.distance.to_the_last_digit
        if row.downwind is not None:
            inner["downwind"] = row.downwind.to_the_last_digit
    return {
        kind: inner["distance"] if set(inner) == {"distance"} else inner
        for kind, inner in told.items()
    }
