"""Checking that machine and mix of a request go together: granules are spread, spray is sprayed."""

from collections.abc import Sequence

from planner.core.machine.machines import Machine
from planner.core.mix.mixing import Formulation, Step
from planner.core.mix.products import Product
from planner.core.request.reader import Members
from planner.core.request.spreader import WEIGHTS
from properties.core.units import Dimension, Quantity

#: Members that only a job with spray can have.
ONLY_SPRAYED = ("hand_tool", "tank_now", "passes", "route", "spots")


def check_job(whole: Members, machine: Machine, products: Sequence[Product]) -> Quantity | None:
    """Note what does not go together, and read what the first pass of a spreader used.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]
    machine : Machine
        The machine. [-]
    products : Sequence[Product]
        The products that could be read. [-]

    Returns
    -------
    Quantity or None
        What the first pass used, None where nobody said. [weight]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    if machine.spreading is None:
        _check_sprayed(whole, products)
        return None
    for name in filter(whole.has, ONLY_SPRAYED):
        whole.faults.add(name, "A spreader is planned without it.", "Leave it out.")
    _check_spread(whole, products)
    used = whole.quantity("first_pass_used", Dimension.MASS, believable=WEIGHTS)
    if whole.has("first_pass_used") and machine.spreading.times_over == 1:
        remedy = "Leave it out, or write 2 in times_over."
        whole.faults.add("first_pass_used", "This spreader goes over the ground once.", remedy)
    return used


def _check_sprayed(whole: Members, products: Sequence[Product]) -> None:
    if whole.has("first_pass_used"):
        remedy = "Leave it out: it is what a spreader used."
        whole.faults.add("first_pass_used", "This machine sprays.", remedy)
    for product in products:
        if _is_granule(product.formulation):
            whole.faults.add(
                "mix",
                f"{product.name} is a granule that is spread dry, and this machine sprays.",
                "Plan it with a spreader, or choose a product that is mixed with water.",
            )


def _check_spread(whole: Members, products: Sequence[Product]) -> None:
    if whole.has("mix") and whole.values["mix"] == []:
        whole.faults.add("mix", "A spreader has nothing to put down.", "Write its product.")
    if len(products) > 1:
        whole.faults.add(
            "mix",
            f"A spreader puts down one product at a time, and there are {len(products)}.",
            "Plan each of them by itself.",
        )
    for product in products:
        if product.rate.dimension is not Dimension.MASS_PER_AREA:
            whole.faults.add(
                "mix",
                f"{product.name}: {product.rate} is a {product.rate.dimension}, and a spreader "
                "puts down a weight per area.",
                "Plan it with a sprayer, or choose a product that is spread dry.",
            )
        elif product.formulation is not None and not _is_granule(product.formulation):
            whole.faults.add(
                "mix",
                f"{product.name} ({product.formulation.token}) is mixed with water, and this "
                "machine spreads dry granules.",
                "Plan it with a sprayer, or choose a product that is spread dry.",
            )


def _is_granule(formulation: Formulation | None) -> bool:
    return formulation is not None and formulation.step is Step.SPREAD
