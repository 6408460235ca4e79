"""Reading the question what a place has had, and what a part of it may still get."""

from dataclasses import dataclass
from datetime import date

from planner.core.mix.products import Product
from planner.core.nutrient.limits import NO_NUTRIENT_RULES, NutrientRules
from planner.core.past import Past
from planner.core.request.days import working_day
from planner.core.request.mix import read_mix
from planner.core.request.nutrient_limits import read_nutrient_rules
from planner.core.request.past import read_past
from planner.core.request.reader import Faults, Members, open_object
from properties.core.errors import FaultsFound
from properties.core.outlines import Drawing, read_drawing

KNOWN = (
    *("property", "products", "on"),
    *("history", "history_since", "blackouts", "seedings"),
    *("nutrient_limits", "soil_test"),
)
MOST_PRODUCTS = 500


@dataclass(frozen=True)
class PlaceQuestion:
    """A drawn property, its past, the day, and the products that are asked about."""

    drawing: Drawing
    products: tuple[Product, ...]
    past: Past
    on: date
    nutrient_rules: NutrientRules = NO_NUTRIENT_RULES


def read_place_question(value: object) -> PlaceQuestion:
    """Read a question about a place from a JSON value.

    Its members are those of a plan request, but for ``products``, which are items of a
    mix that need not go into one tank.

    Parameters
    ----------
    value : object
        What the JSON text held. [-]

    Returns
    -------
    PlaceQuestion
        What is asked about. [unit as written]

    Raises
    ------
    FaultsFound
        If anything cannot be read: every fault with its path and a remedy.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    faults = Faults()
    whole = open_object(faults, "", value, KNOWN)
    question = None if whole is None else _question(whole)
    if question is None or faults.found:
        raise FaultsFound(faults.found)
    return question


def _question(whole: Members) -> PlaceQuestion | None:
    drawing = None
    if whole.want("property", "Draw the place as a GeoJSON FeatureCollection."):
        value = whole.values["property"]
        drawing = whole.faults.trying(lambda: read_drawing(value), below="property")
    whole.want("on", "Write the day that is asked about, for example 2026-05-20.")
    products = tuple(
        product
        for path, item in whole.items("products", most=MOST_PRODUCTS, least=0)
        for product in read_mix(Members(whole.faults, path, {"mix": [item]}))
    )
    on = working_day(whole, "on")
    past = read_past(whole, products, on=on)
    rules = read_nutrient_rules(whole, on=on)
    if drawing is None or on is None:
        return None
    return PlaceQuestion(drawing, products, past, on, rules)
