"""How much of what works in a product comes on the ground, and how much of it as acid.

Rates are kg/m², amounts kg.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.core.label.limits import ActiveIngredient
from planner.core.label.substances import kg_per_amount
from planner.core.mix.portions import Total
from planner.core.mix.products import Product


@dataclass(frozen=True)
class Applied:
    """One active ingredient of one product: what a share of it in the product brings.

    ``acid_share`` is None where the label gives no acid equivalent.
    """

    total: Total
    ingredient: ActiveIngredient
    share: float
    acid_share: float | None

    @property
    def product(self) -> Product:
        """The product it is in."""
        return self.total.product

    @property
    def rate_kg_per_m2(self) -> float | None:
        """What comes on the ground, None where the product follows the spray."""
        return self.product.rate.si * self.share if self.product.by_area else None

    @property
    def acid_kg_per_m2(self) -> float | None:
        """The same as acid, None where nobody knows."""
        if self.acid_share is None or not self.product.by_area:
            return None
        return self.product.rate.si * self.acid_share

    @property
    def amount_kg(self) -> float:
        """What the whole job takes."""
        return self.total.amount * self.share


def applied_ingredients(totals: Sequence[Total]) -> tuple[Applied, ...]:
    """List what works in each product of a job, with how much of it is used.

    Parameters
    ----------
    totals : Sequence of Total
        The products for the whole job. [L or kg]

    Returns
    -------
    tuple of Applied
        Each active ingredient of each product whose label tells it. [kg, kg/m²]

    Raises
    ------
    Nothing
        What cannot be told without a density is left out; the reader asks for it.

    References
    ----------
    Agrochemical and Pesticide Safety Handbook (CRC Press), dilution chapter: active
    ingredient = product × its share; New England Vegetable Management Guide, spray
    dilution tables, for weight per volume.
    """
    return tuple(applied for total in totals for applied in _of(total))


def _of(total: Total) -> Iterator[Applied]:
    product = total.product
    form, density = product.kind.form, product.label.density
    for ingredient in product.label.active_ingredients or ():
        share = kg_per_amount(ingredient.content, form=form, density=density)
        acid = ingredient.acid_equivalent
        acid_share = None if acid is None else kg_per_amount(acid, form=form, density=density)
        if share is not None:
            yield Applied(total, ingredient, share, acid_share)
