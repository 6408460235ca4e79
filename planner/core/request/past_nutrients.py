"""Reading which nutrients were in what a place has had."""

from planner.core.label.labels import RATE_KINDS, Form
from planner.core.mix.products import Product
from planner.core.nutrient.nutrients import Nutrient
from planner.core.request.fertilizer import read_fertilizer
from planner.core.request.reader import Members
from properties.core.errors import Refused
from properties.core.units import Dimension, Quantity, parse_quantity


def read_past_nutrients(
    members: Members, mixed: Product | None, rate: Quantity
) -> dict[Nutrient, float | None] | None:
    """Read the nutrients in one L or kg of a product that was put down.

    Parameters
    ----------
    members : Members
        One item of the history. [-]
    mixed : Product or None
        The product of the mix that it is, if it is one. [-]
    rate : Quantity
        How much of it the ground got. [per area]

    Returns
    -------
    dict of Nutrient to float or None, or None
        What is in it, None for what its label does not tell; empty where it was no
        fertilizer, None where nobody says.
        [kg per L or kg]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own rule: a product whose active ingredients are told, or that is in the mix, is a
    fertilizer only if its grade is told; of any other nobody knows.
    """
    if members.values.get("fertilizer") is False:
        return {}
    told, density = read_fertilizer(members), _density(members)
    if told is None and mixed is not None and not members.has("fertilizer"):
        told, density = mixed.fertilizer, mixed.label.density
    if told is None:
        return {} if mixed is not None or members.has("active_ingredients") else None
    kg = 1.0
    if RATE_KINDS[rate.dimension].form is Form.LIQUID:
        if density is None:
            return None
        kg = density.si
    shares = ((nutrient, told.share_of(nutrient)) for nutrient in Nutrient)
    return {nutrient: None if share is None else kg * share for nutrient, share in shares}


def _density(members: Members) -> Quantity | None:
    """The density, whose faults are found where the contents are read."""
    try:
        return parse_quantity(members.values.get("density"), Dimension.MASS_PER_VOLUME)
    except Refused:
        return None
