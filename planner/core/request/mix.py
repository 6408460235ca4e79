"""Reading the mix of a plan request: products, their rates, what their labels say."""

from planner.core.labels import RATE_KINDS, Form, Label
from planner.core.mixing import FORMULATIONS, Formulation
from planner.core.products import Product
from planner.core.request.label import read_label
from planner.core.request.rates import RATES
from planner.core.request.reader import Faults, Members, open_object
from properties.core.units import Quantity

KNOWN = ("name", "rate", "formulation", "label")

MOST_PRODUCTS = 20


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
        product = _product(whole.faults, path, item)
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


def _product(faults: Faults, path: str, value: object) -> Product | None:
    members = open_object(faults, path, value, KNOWN)
    if members is None:
        return None
    members.want("name", "Write what the product is called.")
    name = members.name("name")
    members.want("rate", "Write the rate, for example 0.80 fl oz/1000 sq ft.")
    rate = _rate(members, "rate")
    label = read_label(members, rate) or Label()
    formulation = _formulation(members, rate)
    if name is None or rate is None:
        return None
    return Product(name, rate, label, formulation)


def _rate(members: Members, name: str) -> Quantity | None:
    rate = members.quantity(name, *RATE_KINDS)
    if rate is None:
        return None
    believable = RATES[rate.dimension]
    return members.faults.trying(lambda: believable.check(rate, field=members.path_of(name)))


def _formulation(members: Members, rate: Quantity | None) -> Formulation | None:
    by_any_case = {token.casefold(): formulation for token, formulation in FORMULATIONS.items()}
    value = members.values.get("formulation")
    if isinstance(value, str) and value.casefold() in by_any_case:
        formulation = by_any_case[value.casefold()]
        _check_form(members, formulation, rate)
        return formulation
    members.choice("formulation", FORMULATIONS)
    return None


def _check_form(members: Members, formulation: Formulation, rate: Quantity | None) -> None:
    if rate is None or formulation.form is not Form.DRY:
        return
    if RATE_KINDS[rate.dimension].form is not Form.DRY:
        members.faults.add(
            members.path_of("rate"),
            f"{formulation.token} is a dry product and {rate} is a volume.",
            "Copy the weight from the label, for example 0.15 oz wt/1000 sq ft.",
        )
