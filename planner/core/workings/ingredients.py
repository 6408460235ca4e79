"""How the active ingredient on the ground came about."""

from collections.abc import Iterator, Sequence

from planner.core.mix.ingredients import Applied, applied_ingredients
from planner.core.mix.portions import Total
from planner.core.shown import INGREDIENT_RATES, Shown, Units
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure, Input

SOURCE = (
    "Agrochemical and Pesticide Safety Handbook (CRC Press), dilution chapter: active ingredient "
    "= product × its share; by volume over the weight in a volume (New England Vegetable "
    "Management Guide, spray dilution tables)."
)


def ingredient_figures(totals: Sequence[Total], *, units: Units, shown: Shown) -> Iterator[Figure]:
    """Derive how much of each active ingredient comes on the ground.

    Parameters
    ----------
    totals : Sequence of Total
        The products for the whole job. [L or kg]
    units : Units
        The family of units asked for. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Iterator of Figure
        The derivations. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    for number, applied in enumerate(applied_ingredients(totals)):
        yield from _figures(f"active_ingredients[{number}]", applied, units, shown)


def _figures(key: str, applied: Applied, units: Units, shown: Shown) -> Iterator[Figure]:
    product, name = applied.product, applied.ingredient.name
    unit = shown.amount_unit(product.rate)
    amount = Input("product", quantity_of_si(applied.total.amount, unit))
    each = Input("in each", _weight_in_one(applied.share, unit, shown))
    told = f"({each.name} is what one {unit} of {product.name} holds)"
    yield Figure(
        f"{key}.amount",
        f"{name} in the {product.name} of the whole job {told}",
        f"{amount.name} × {each.name}",
        (amount, each),
        quantity_of_si(applied.amount_kg, shown.dry),
        SOURCE,
    )
    rates = (
        ("rate", name, applied.share, applied.rate_kg_per_m2),
        ("acid_rate", f"{name} as acid", applied.acid_share, applied.acid_kg_per_m2),
    )
    for word, called, share, rate in rates:
        if rate is None or share is None:
            continue
        large = INGREDIENT_RATES[units]
        rated = shown.rate_of(product.rate, product.rate.si)
        holds = _weight_in_one(share, unit, shown)
        small = Quantity(1.0, f"{shown.dry}/{shown.per_area} {shown.area}")
        factor = small.to(large)
        yield Figure(
            f"{key}.{word}",
            f"{called} on the ground (in each is what one {unit} holds; per area is what one "
            f"{small.unit} is)",
            "rate × in each × per area",
            (Input("rate", rated), Input("in each", holds), Input("per area", factor)),
            quantity_of_si(rate, large),
            SOURCE,
        )


def _weight_in_one(share: float, unit: str, shown: Shown) -> Quantity:
    """How much of it is in one unit of the product."""
    return quantity_of_si(share * Quantity(1.0, unit).si, shown.dry)
