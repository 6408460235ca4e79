"""What the labels of a plan say to whoever mixes, sprays and posts, in words."""

from collections.abc import Iterator
from typing import Any

from properties.core.showing import shown
from properties.core.units import Quantity

Json = dict[str, Any]

#: What each fact is called, in the order in which somebody needs it.
NAMES = {
    "signal_word": "Signal word",
    "protection": "Wear",
    "keep_off": "Stay off for",
    "until_dry": "Stay off until",
    "kills_turf": "On turf",
    "rain_fast": "Dry time before rain",
    "water_in": "Water it in",
    "irrigation_hold": "No irrigation for",
    "temperature_min": "Not colder than",
    "temperature_max": "Not hotter than",
    "wind_min": "Least wind",
    "finest_droplets": "Finest drops",
    "coarsest_droplets": "Coarsest drops",
    "strongest_in_water": "Most of it in water",
    "least_in_spray": "Least in the spray",
    "spot_share_max": "Spots on at most",
    "spot_rate_over_all": "A rate for spots",
    "mixing_notes": "Mixing",
    "registration_number": "Registration number",
    "version": "Our copy of it",
}


#: The scale that each family of units has.
DEGREES = {"us": "deg F", "metric": "deg C"}
#: What a fact that is simply so is told as.
YES = {
    "until_dry": "the spray has dried",
    "kills_turf": "it kills all of it",
    "spot_rate_over_all": "may go over all of the turf",
}


def label_sheet(plan: Json) -> list[tuple[str, list[tuple[str, str]]]]:
    """List what each label says, product by product; a plan kept long ago has none."""
    units = plan.get("units", "us")
    return [(facts["name"], list(_told(facts, units))) for facts in plan.get("label_facts") or ()]


def jar_products(plan: Json) -> list[dict[str, str]]:
    """Name what goes into a jar first, with where its working stands."""
    products = (plan.get("jar_test") or {}).get("products", ())
    return [
        {"name": product["name"], "key": f"jar_test.products[{n}].amount"}
        for n, product in enumerate(products)
    ]


def ingredients(plan: Json) -> list[dict[str, str]]:
    """Name what works in the products, with where the working of each rate stands."""
    return [
        {
            "name": one["name"],
            "acid_name": f"{one['name']}, as acid",
            "rate": f"active_ingredients[{n}].rate",
            "acid_rate": f"active_ingredients[{n}].acid_rate",
        }
        for n, one in enumerate(plan.get("active_ingredients") or ())
    ]


def _told(facts: Json, units: str) -> Iterator[tuple[str, str]]:
    for name, called in NAMES.items():
        if name in facts:
            yield called, YES.get(name) or _words(facts[name]) + _other_scale(facts[name], units)


def _other_scale(fact: object, units: str) -> str:
    """Say a temperature of the label on the reader’s scale too, where that is another."""
    told = fact if isinstance(fact, dict) else {}
    if told.get("unit") not in DEGREES.values() or told["unit"] == DEGREES[units]:
        return ""
    return f" ({shown(Quantity(told['value'], told['unit']).to(DEGREES[units]))})"


def _words(fact: object) -> str:
    if isinstance(fact, int):
        return f"version {fact}"
    if isinstance(fact, str):
        return fact.replace("_", " ")
    told = fact if isinstance(fact, dict) else {}
    if "value" in told:
        return shown(Quantity(told["value"], told["unit"]))
    depth, within = (told.get(part) and _words(told[part]) for part in ("depth", "within"))
    return f"{depth or 'as the label says'}{f' within {within}' if within else ''}"
