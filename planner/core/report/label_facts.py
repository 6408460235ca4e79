"""What the labels say to whoever mixes, sprays and posts, as JSON."""

from collections.abc import Mapping, Sequence

from planner.core.keep_off import keep_off_of
from planner.core.mix.products import Product
from planner.core.report.quantities import Json, maybe, quantity
from planner.core.shown import in_unit
from properties.core.units import Quantity

HOURS = "h"


def label_facts_as_json(products: Sequence[Product]) -> Json:
    """Write what each label says, and how long to stay off after the mix.

    Parameters
    ----------
    products : Sequence[Product]
        The products of the mix. [-]

    Returns
    -------
    dict
        The members ``label_facts`` and ``keep_off``; what nobody copied is left out. [as copied]

    Raises
    ------
    Nothing
        Every label can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    keep_off = keep_off_of(products)
    facts = [{"name": product.name, **_facts(product)} for product in products]
    return {
        "label_facts": [each for each in facts if len(each) > 1],
        "keep_off": None
        if keep_off is None
        else {
            "time": None if keep_off.time is None else quantity(in_unit(keep_off.time, HOURS)),
            "until_dry": keep_off.until_dry,
        },
    }


def _facts(product: Product) -> Json:
    told, conditions = product.label.told, product.label.conditions
    water_in = told.water_in
    words: Mapping[str, str | int | None] = {
        "version": told.version,
        "registration_number": told.registration_number,
        "signal_word": told.signal_word,
        "protection": told.protection,
        "finest_droplets": told.finest_droplets,
        "coarsest_droplets": told.coarsest_droplets,
        "until_dry": told.until_dry or None,
        "kills_turf": told.kills_turf or None,
        "spot_rate_over_all": conditions.spot_rate_over_all or None,
        "mixing_notes": told.mixing_notes,
    }
    quantities: Mapping[str, Quantity | None] = {
        "keep_off": told.keep_off,
        "rain_fast": told.rain_fast,
        "irrigation_hold": told.irrigation_hold,
        "temperature_min": conditions.temperature_min,
        "temperature_max": conditions.temperature_max,
        "wind_min": conditions.wind_min,
        "strongest_in_water": conditions.strongest_in_water,
        "least_in_spray": conditions.least_in_spray,
        "spot_share_max": conditions.spot_share_max,
    }
    facts: Json = {name: word for name, word in words.items() if word is not None}
    facts |= {name: quantity(told) for name, told in quantities.items() if told is not None}
    if water_in is not None:
        facts["water_in"] = {"depth": maybe(water_in.depth), "within": maybe(water_in.within)}
    return facts
