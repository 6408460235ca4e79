"""What is in a product, so that several products can be counted together.

A substance is anything that is limited whatever product it comes in: an active
ingredient, a nutrient. Amounts of it are kg, amounts of product L or kg.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from planner.core.label.labels import Form
from properties.core.units import Dimension, Quantity


@dataclass(frozen=True)
class Content:
    """One substance of a product: how many kg of it are in one L or kg."""

    name: str
    kg_per_amount: float

    def is_of(self, substance: str) -> bool:
        """Whether this is the substance that is meant, however it is spelled."""
        return self.name.casefold() == substance.casefold()


def kg_per_amount(content: Quantity, *, form: Form, density: Quantity | None) -> float | None:
    """Find how much of a substance is in one litre or kilogram of a product.

    Parameters
    ----------
    content : Quantity
        Weight per volume of the product, or a share of its weight. [kg/L or kg/kg]
    form : Form
        Whether the product is measured by volume or by weight. [-]
    density : Quantity or None
        What the product weighs, > 0; None where nobody says. [kg/L]

    Returns
    -------
    float or None
        The substance, None where the density would be needed. [kg/L or kg/kg]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    By definition: content = share × density.
    """
    by_weight = content.dimension is Dimension.SHARE
    if by_weight == (form is Form.DRY):
        return content.si
    if density is None:
        return None
    return content.si * density.si if by_weight else content.si / density.si


def amount_of(substance: str, contents: Iterable[Content]) -> float:
    """Find how much of a substance is in one litre or kilogram of a product with these contents.

    Parameters
    ----------
    substance : str
        Its name. [-]
    contents : Iterable[Content]
        All that is in the product. [kg/L or kg/kg]

    Returns
    -------
    float
        The substance; 0 where it is not among them. [kg/L or kg/kg]

    Raises
    ------
    Nothing
        Any names can be compared.

    References
    ----------
    By definition.
    """
    return sum(content.kg_per_amount for content in contents if content.is_of(substance))
