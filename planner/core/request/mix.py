"""Reading the mix of a plan request: products, their rates, what their labels say."""

from dataclasses import replace
from functools import partial

from planner.core.label.densities import by_density
from planner.core.label.facts import Use
from planner.core.label.labels import EVERY_KIND, RATE_KINDS, Form, Label, Limits
from planner.core.mix.mixing import FORMULATIONS, Formulation
from planner.core.mix.products import NutrientTarget, Product
from planner.core.nutrient.nutrients import Fertilizer
from planner.core.request.fertilizer import rate_for_target, read_fertilizer, read_target
from planner.core.request.label import read_label
from planner.core.request.rates import AMOUNTS_EACH, RATES
from planner.core.request.reader import Faults, Members, open_object, quantity_at
from properties.core.errors import Refused
from properties.core.units import Dimension, Quantity, parse_quantity

KNOWN = (
    *("name", "rate", "formulation", "label", "past_rates"),
    *("nutrient_target", "fertilizer"),
)

MOST_PRODUCTS = 20
MOST_PAST_RATES = 1000


def read_mix(whole: Members) -> tuple[Product, ...]:
    """Read the list of products of a request.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]

    Returns
    -------
    tuple[Product, ...]
        The products that could be read, in the order asked for. [-]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    whole.want("mix", "List the products, or write [] for plain water.")
    products: list[Product] = []
    for path, item in whole.items("mix", most=MOST_PRODUCTS, least=0):
        product = _product(whole.faults, path, item, of_plants=whole.has("plants"))
        if product is None:
            continue
        if product.name.casefold() in {other.name.casefold() for other in products}:
            whole.faults.add(
                f"{path}.name",
                f"{product.name} is in the mix twice.",
                "Keep it once, or give the second product its own name.",
            )
        products.append(product)
    return tuple(products)


def _product(faults: Faults, path: str, value: object, *, of_plants: bool) -> Product | None:
    members = open_object(faults, path, value, KNOWN)
    if members is None:
        return None
    members.want("name", "Write what the product is called.")
    name = members.name("name")
    fertilizer, target = read_fertilizer(members), read_target(members)
    rate = _rate_by_nutrient(members, fertilizer, target) or _rate(members, of_plants=of_plants)
    label = read_label(members, rate) or Label()
    formulation = _formulation(members, rate, label)
    past = _past_rates(members)
    if name is None or rate is None:
        return None
    product = measured_by_form(
        Product(
            name,
            rate,
            label,
            formulation,
            past_rates=past,
            fertilizer=fertilizer,
            target=target,
        )
    )
    _check_density(members, product)
    _check_strengths(members, product)
    return product


def measured_by_form(product: Product) -> Product:
    """Turn the rates of a product into what it is measured out by, where its density is known.

    Parameters
    ----------
    product : Product
        A product as it was told. [-]

    Returns
    -------
    Product
        The product; as it was where nothing need be turned. [-]

    Raises
    ------
    Nothing
        Without a density nothing is turned.

    References
    ----------
    See ``by_density``.
    """
    density, formulation = product.label.density, product.formulation
    form = None if formulation is None else formulation.measured_as
    if density is None or form is None or product.kind.form is form:
        return product
    turned = partial(by_density, density=density, form=form)
    ends, limits = product.label.rate, product.label.limits
    lowest, highest, each, in_all = (
        None if limit is None else turned(limit)
        for limit in (ends.lowest, ends.highest, limits.per_application, limits.per_year)
    )
    label = replace(
        product.label,
        rate=Limits(lowest, highest),
        limits=replace(limits, per_application=each, per_year=in_all),
    )
    return replace(
        product,
        rate=turned(product.rate),
        label=label,
        rate_told=product.rate,
        past_rates=tuple(turned(rate) for rate in product.past_rates),
    )


def _past_rates(members: Members) -> tuple[Quantity, ...]:
    read = [
        quantity_at(members.faults, path, item, *RATE_KINDS)
        for path, item in members.items("past_rates", most=MOST_PAST_RATES, least=0)
    ]
    return tuple(rate for rate in read if rate is not None)


def _rate_by_nutrient(
    members: Members, fertilizer: Fertilizer | None, target: NutrientTarget | None
) -> Quantity | None:
    path = members.path_of("nutrient_target")
    if not members.has("nutrient_target"):
        members.want("rate", "Write the rate, for example 0.80 fl oz/1000 sq ft.")
        return None
    if members.has("rate"):
        remedy = "Keep one of them."
        members.faults.add(path, "Both a rate and a rate of a nutrient are given.", remedy)
    if not members.has("fertilizer"):
        remedy = 'Copy the grade from the bag, for example "fertilizer": {"grade": "18-3-9"}.'
        members.faults.add(path, "Nobody says how much of the nutrient it holds.", remedy)
    if fertilizer is None or target is None:
        return None
    rate = members.faults.trying(lambda: rate_for_target(target, fertilizer, field=path))
    density = _density_of_liquid(members)
    if rate is None or density is None:
        return rate
    return by_density(rate, density=density, form=Form.LIQUID)


def _density_of_liquid(members: Members) -> Quantity | None:
    """The density that makes a volume of a weight; its faults are found with the label."""
    told, label = members.values.get("formulation"), members.values.get("label")
    formulation = FORMULATIONS.get(told) if isinstance(told, str) else None
    if formulation is None or formulation.measured_as is not Form.LIQUID:
        return None
    try:
        value = label.get("density") if isinstance(label, dict) else None
        return parse_quantity(value, Dimension.MASS_PER_VOLUME)
    except Refused:
        return None


def _check_density(members: Members, product: Product) -> None:
    """A volume of fertilizer holds a known weight of nutrient only with its density."""
    if product.fertilizer and product.is_liquid and product.label.density is None:
        members.faults.add(
            members.path_of("fertilizer"),
            f"{product.rate} is a volume, and nobody says what that weighs.",
            "Copy the weight per volume into the label, for example "
            '"label": {"density": "10.7 lb/gal"}.',
        )


def _check_strengths(members: Members, product: Product) -> None:
    """A weight in water cannot be compared with a volume of product without its density."""
    conditions = product.label.conditions
    for name in ("strongest_in_water", "least_in_spray"):
        told: Quantity | None = getattr(conditions, name)
        if told is None or product.label.density is not None:
            continue
        if RATE_KINDS[told.dimension].form is not product.kind.form:
            members.faults.add(
                f"{members.path_of('label')}.{name}",
                f"{told} cannot be compared with the rate of a {product.kind.form} product.",
                "Copy it in the measure of the rate, or copy the density too.",
            )


def _rate(members: Members, *, of_plants: bool) -> Quantity | None:
    name, amount = "rate", _amount_alone(members.values.get("rate"))
    if amount is not None and of_plants:
        each = AMOUNTS_EACH[amount.dimension]
        return members.faults.trying(lambda: each.check(amount, field=members.path_of(name)))
    if amount is not None and _is_for_plants(members):
        members.faults.add(
            members.path_of(name),
            f"{amount} is for each plant, and nobody says how many plants there are.",
            "Plan the plants by themselves: tell their number and the spray that each gets.",
        )
        return None
    if amount is not None:
        members.faults.add(
            members.path_of(name),
            f"{amount} does not say what it is for.",
            "Write the area or the volume of spray with it, for example "
            f"{amount}/1000 sq ft, {amount}/acre or {amount}/100 gal.",
        )
        return None
    rate = members.quantity(name, *RATE_KINDS)
    if rate is None:
        return None
    believable = RATES[rate.dimension]
    return members.faults.trying(lambda: believable.check(rate, field=members.path_of(name)))


def _is_for_plants(members: Members) -> bool:
    label = members.values.get("label")
    return isinstance(label, dict) and label.get("use") == Use.PER_PLANT


def _amount_alone(value: object) -> Quantity | None:
    """A weight or a volume that stands where a rate is asked for."""
    try:
        return parse_quantity(value, Dimension.VOLUME, Dimension.MASS)
    except Refused:
        return None


def _formulation(members: Members, rate: Quantity | None, label: Label) -> Formulation | None:
    by_any_case = {token.casefold(): formulation for token, formulation in FORMULATIONS.items()}
    value = members.values.get("formulation")
    if isinstance(value, str) and value.casefold() in by_any_case:
        formulation = by_any_case[value.casefold()]
        if label.density is None:
            _check_form(members, formulation, rate)
        return formulation
    members.choice("formulation", FORMULATIONS)
    return None


def _check_form(members: Members, formulation: Formulation, rate: Quantity | None) -> None:
    if rate is None or formulation.form is not Form.DRY:
        return
    if EVERY_KIND[rate.dimension].form is not Form.DRY:
        members.faults.add(
            members.path_of("rate"),
            f"{formulation.token} is a dry product and {rate} is a volume.",
            "Copy the weight from the label, for example 0.15 oz wt/1000 sq ft, or copy its "
            "density, so that the volume can be weighed.",
        )
