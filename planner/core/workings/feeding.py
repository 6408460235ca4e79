"""How it came about what nutrients a plan puts down, and what limits them."""

from collections.abc import Iterator

from planner.core.amounts.feeding import Feeding, feeding_of
from planner.core.amounts.parts import Part
from planner.core.nutrient.limits import Checked, NutrientRules
from planner.core.nutrient.nutrients import K_IN_K2O, P_IN_P2O5, Nutrient
from planner.core.shown import PER_WEIGHT, Shown
from planner.core.workings.terms import explained
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure, Input

NUTRIENT_SOURCE = (
    "Cornell Cooperative Extension of Suffolk County, calculations for fertilizer applications: "
    "nutrient = product × percent. Soluble nitrogen is nitrogen less its slow-release share."
)
ELEMENT_SOURCE = (
    "Standard atomic weights, abridged (IUPAC 2021): P2O5 is "
    f"{P_IN_P2O5:.4f} phosphorus and K2O {K_IN_K2O:.4f} potassium by weight."
)
LIMIT_SOURCE = "The rule that is named; what the place has had is as it was told."


def feeding_figures(part: Part, rules: NutrientRules, *, shown: Shown) -> Iterator[Figure]:
    """Derive the nutrients that a part puts down.

    Parameters
    ----------
    part : Part
        The part. [-]
    rules : NutrientRules
        What limits nutrients at the place. [kg/m²]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    feeding = feeding_of(part, rules)
    if not feeding.fed:
        return
    for position, nutrient in enumerate(Nutrient):
        yield from _nutrient(f"nutrients[{position}]", nutrient, feeding, shown)
    for position, each in enumerate(feeding.checked):
        yield from _limit(f"nutrient_limits[{position}]", each, shown)
        yield from _slow_share(f"nutrient_limits[{position}]", each, feeding, shown)


def _nutrient(key: str, nutrient: Nutrient, feeding: Feeding, shown: Shown) -> Iterator[Figure]:
    rate = feeding.added[nutrient]
    if rate is None:
        return
    inputs: list[Input] = []
    terms, names = [], []
    for number, fed in enumerate(feeding.fed, start=1):
        weight = Input(f"product {number}", shown.weight_rate_of(fed.kg_per_m2))
        share = fed.fertilizer.share_of(nutrient) or 0.0
        percent = Input(f"share {number}", Quantity(100 * share, "%"))
        inputs += [weight, percent]
        terms.append(f"{weight.name} × {percent.name} / 100")
        names.append((weight.name, fed.product.name))
    source = ELEMENT_SOURCE if nutrient in {Nutrient.P, Nutrient.K} else NUTRIENT_SOURCE
    result = shown.weight_rate_of(rate)
    name = explained(f"{nutrient} on the ground", names)
    yield Figure(f"{key}.rate", name, " + ".join(terms), tuple(inputs), result, source)
    area = Input("area", shown.area_of(feeding.rated_m2))
    told = Input("rate", result)
    yield Figure(
        f"{key}.amount",
        f"{nutrient} for the whole ground",
        f"{area.name} × {told.name} / {PER_WEIGHT}",
        (area, told),
        shown.weight_of(rate * feeding.rated_m2),
        NUTRIENT_SOURCE,
    )


def _limit(key: str, each: Checked, shown: Shown) -> Iterator[Figure]:
    if each.applied is None:
        return
    nutrient = each.limit.nutrient
    applied = Input("applied now", shown.weight_rate_of(each.applied))
    name = f"{nutrient} that counts against the limit per {each.limit.per}"
    yield Figure(
        f"{key}.applied",
        f"{nutrient} that is put down now",
        applied.name,
        (applied,),
        applied.quantity,
        NUTRIENT_SOURCE,
    )
    if each.so_far is None or each.total is None:
        return
    so_far = Input("so far", quantity_of_si(each.so_far, shown.weight_rate))
    yield Figure(
        f"{key}.total",
        name,
        f"{applied.name} + {so_far.name}",
        (applied, so_far),
        shown.weight_rate_of(each.total),
        LIMIT_SOURCE,
    )


def _slow_share(key: str, each: Checked, feeding: Feeding, shown: Shown) -> Iterator[Figure]:
    rates = feeding.added[Nutrient.N], feeding.added[Nutrient.SOLUBLE_N]
    if each.limit.least_slow_release is None or each.slow_share is None:
        return
    nitrogen, soluble = (
        Input(name, shown.weight_rate_of(rate or 0.0))
        for name, rate in zip(("nitrogen", "soluble nitrogen"), rates, strict=True)
    )
    yield Figure(
        f"{key}.slow_release",
        "Share of the nitrogen that is released slowly",
        f"100 × (1 − {soluble.name} / {nitrogen.name})",
        (soluble, nitrogen),
        quantity_of_si(each.slow_share, "%"),
        NUTRIENT_SOURCE,
    )
