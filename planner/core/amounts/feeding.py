"""The nutrients that a tool puts down, against what limits them at the place.

Rates are kg/m² of the ground that a label's rate meets.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.core.amounts.parts import Part
from planner.core.findings import Finding, Findings
from planner.core.mix.conditioning import AMMONIUM_SULFATE
from planner.core.mix.mixing import Step
from planner.core.mix.products import Product
from planner.core.nutrient.limits import (
    Checked,
    NutrientRules,
    checked_limits,
    most_product,
)
from planner.core.nutrient.nutrients import Fertilizer, Nutrient, added_nutrients
from planner.core.shown import Shown, said
from properties.core.units import quantity_of_si


@dataclass(frozen=True)
class Fed:
    """A fertilizer of a part, and its weight on the ground that a label's rate meets."""

    product: Product
    fertilizer: Fertilizer
    kg_per_m2: float


@dataclass(frozen=True)
class Feeding:
    """Every fertilizer of a part, the nutrients they add up to, and the limits on them.

    ``rated_m2`` is the ground that they are put on. ``untold`` are products that may hold
    nutrients, where some are limited.
    """

    rated_m2: float
    fed: tuple[Fed, ...]
    added: Mapping[Nutrient, float | None]
    checked: tuple[Checked, ...]
    untold: tuple[Product, ...] = ()

    @property
    def most(self) -> float | None:
        """The highest rate of the one fertilizer that every limit allows, if any binds."""
        return most_product(self.checked, [each.fertilizer for each in self.fed])


def feeding_of(part: Part, rules: NutrientRules) -> Feeding:
    """Work out the nutrients that a part puts down.

    Parameters
    ----------
    part : Part
        The part. [-]
    rules : NutrientRules
        What limits nutrients at the place. [kg/m²]

    Returns
    -------
    Feeding
        The nutrients and the limits. [kg/m²]

    Raises
    ------
    Nothing
        What is not known is None.

    References
    ----------
    See ``added_nutrients`` and ``checked_limits``.
    """
    products = [total.product for total in part.totals]
    return feeding_on(part.rated_m2, products, rules, l_per_rated_m2=part.l_per_rated_m2)


def feeding_on(
    rated_m2: float, products: Sequence[Product], rules: NutrientRules, *, l_per_rated_m2: float
) -> Feeding:
    """Work out the nutrients that a mix puts on some ground.

    Parameters
    ----------
    rated_m2 : float
        The ground. [m²]
    products : Sequence[Product]
        The mix. [-]
    rules : NutrientRules
        What limits nutrients there. [kg/m²]
    l_per_rated_m2 : float
        Finished spray on it. [L/m²]

    Returns
    -------
    Feeding
        The nutrients and the limits. [kg/m²]

    Raises
    ------
    Nothing
        What is not known is None.

    References
    ----------
    See ``added_nutrients`` and ``checked_limits``.
    """
    fed = tuple(_fed(products, l_per_rated_m2))
    added = added_nutrients([(each.kg_per_m2, each.fertilizer) for each in fed])
    untold = tuple(each for each in products if rules.holding and _may_feed(each))
    return Feeding(rated_m2, fed, added, checked_limits(rules, added) if fed else (), untold)


def _may_feed(product: Product) -> bool:
    """Whether a product without a grade has a form that fertilizers come in."""
    formulation = product.formulation
    if formulation is None or product.fertilizer is not None:
        return False
    is_conditioner = formulation.token == AMMONIUM_SULFATE
    return is_conditioner or formulation.step in {Step.FERTILIZERS, Step.SPREAD}


def _fed(products: Sequence[Product], l_per_rated_m2: float) -> Iterator[Fed]:
    for product in products:
        if product.fertilizer is not None:
            rate = product.rate.si
            per_area = rate if product.by_area else rate * l_per_rated_m2
            yield Fed(product, product.fertilizer, per_area * product.kg_per_amount)


def feeding_findings(feeding: Feeding, *, shown: Shown) -> Findings:
    """Refuse nutrients over a limit, and those that nobody can compare with one.

    Parameters
    ----------
    feeding : Feeding
        The nutrients of a part and the limits. [kg/m²]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        A refusal for each limit that is broken or cannot be checked; a warning for one
        that is only an example. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The limits name their own; unknown is not zero.
    """
    over = [_over(each, feeding, shown) for each in feeding.checked if each.allowed is False]
    unknown = [_unknown(each, feeding) for each in feeding.checked if each.allowed is None]
    examples = [_example(each) for each in feeding.checked if each.limit.example]
    return Findings((*examples, *map(_nobody_knows, feeding.untold)), (*over, *unknown))


def _over(each: Checked, feeding: Feeding, shown: Shown) -> Finding:
    limit = each.limit
    applied = said(shown.weight_rate_of(each.applied or 0.0))
    so_far = ""
    if limit.per.counts_back:
        total = said(shown.weight_rate_of(each.total or 0.0))
        had = said(shown.weight_rate_of(each.so_far or 0.0))
        so_far = f" With the {had} {limit.per.of_span} that makes {total}."
    message = (
        f"{_names(feeding)} would put down {applied} of {limit.nutrient}.{so_far} The limit is "
        f"{limit.at_most} per {limit.per} ({limit.origin}).{_soil_test(each)}{_slow(each)} "
        f"{_what_would_do(each, feeding, shown)}"
    )
    return Finding("nutrient_over_limit", message, product=_one_name(feeding))


def _what_would_do(each: Checked, feeding: Feeding, shown: Shown) -> str:
    most = feeding.most
    room = each.room or 0.0
    if not room:
        return f"No {each.limit.nutrient} may go down: choose a product without it, or wait."
    left = f"At most {said(shown.weight_rate_of(room))} of {each.limit.nutrient} may go down"
    if most is None:
        return f"{left}. Lower the rates."
    product = feeding.fed[0].product
    rate = said(quantity_of_si(most / product.kg_per_amount, product.rate.unit))
    return f"{left}; every limit is kept with {rate} of {product.name} or less."


def _soil_test(each: Checked) -> str:
    if not each.limit.unless_soil_test:
        return ""
    return " It is lifted by a soil test that is valid on the day, and there is none on file."


def _slow(each: Checked) -> str:
    least = each.limit.least_slow_release
    if least is None:
        return ""
    share = said(quantity_of_si(each.slow_share or 0.0, "%"))
    return (
        f" More is allowed at once only where at least {least} of the nitrogen is slow release, "
        f"and here {share} is: a fertilizer with so much would do, as far as other limits allow."
    )


def _unknown(each: Checked, feeding: Feeding) -> Finding:
    limit = each.limit
    if each.applied is None or each.waits_for_slow_share:
        message = (
            f"{_names(feeding)}: nobody says how much of the nitrogen is slow release, and "
            f"{limit.origin} limits {limit.nutrient} to {limit.at_most} per {limit.per}. Copy the "
            "share from the label; write 0 % if it names none."
        )
        return Finding("slow_release_unknown", message, product=_one_name(feeding))
    message = (
        f"Nobody says how much {limit.nutrient} this ground has had {limit.per.span}, and unknown "
        f"is not zero: {limit.origin} allows {limit.at_most} per {limit.per}. Add what it has "
        "had, 0 if nothing."
    )
    return Finding("nutrient_so_far_unknown", message)


def _example(each: Checked) -> Finding:
    limit = each.limit
    message = (
        f"The limit of {limit.at_most} of {limit.nutrient} per {limit.per} is an example, not a "
        f"rule that anybody has checked ({limit.origin}). Check locally, then enter your own."
    )
    return Finding("nutrient_limit_example", message)


def _nobody_knows(product: Product) -> Finding:
    message = (
        f"{product.name}: nutrients are limited here, and nobody says whether it holds any. Copy "
        "its grade from the bag, or make sure that it is no fertilizer."
    )
    return Finding("nutrients_unknown", message, product=product.name)


def _names(feeding: Feeding) -> str:
    return " and ".join(each.product.name for each in feeding.fed)


def _one_name(feeding: Feeding) -> str | None:
    return feeding.fed[0].product.name if len(feeding.fed) == 1 else None
