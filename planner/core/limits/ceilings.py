"""The limits that a mix must keep: of each product itself, and of what is in several.

Amounts of a product are L or kg per m², amounts of a substance kg per m².
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.core.label.limits import UseLimits
from planner.core.label.substances import amount_of
from planner.core.mix.products import Product
from planner.core.past import PastApplication
from planner.core.shown import Shown


@dataclass(frozen=True)
class Ceiling:
    """What one label allows of its product, or of one substance whatever it comes in.

    ``shares`` is how much each product of the mix brings per amount of its own.
    """

    product: Product
    substance: str | None
    limits: UseLimits
    shares: Mapping[str, float]

    @property
    def what(self) -> str:
        """What is limited, in a sentence."""
        return self.substance or self.product.name

    def unit(self, shown: Shown) -> str:
        """Name the unit that amounts of it are shown in."""
        if self.substance is not None:
            return shown.substance
        return shown.per_area_unit(weighed=self.product.kind.is_weighed)

    @property
    def lowest(self) -> float:
        """The least that is worth putting down, by the lowest rate of the label; 0 if unknown."""
        lowest = self.product.label.rate.lowest
        if lowest is None or not self.product.by_area:
            return 0.0
        return lowest.si * self.shares[self.product.name]

    def counts(self, application: PastApplication) -> bool:
        """Whether an application may count against it: one that nobody knows may."""
        if self.substance is None:
            return application.is_of(self.product.name)
        return application.amount_of(self.substance) != 0

    def amount_in(self, application: PastApplication) -> float | None:
        """How much of it the ground got from an application; None where nobody knows."""
        if self.substance is None:
            return application.rate.si if application.is_of(self.product.name) else 0.0
        return application.amount_of(self.substance)

    def amount_from(self, rates: Mapping[str, float]) -> float:
        """How much of it comes from products put down at so much per area."""
        return math.fsum(share * rates[name] for name, share in self.shares.items())


def ceilings_of(products: Sequence[Product]) -> tuple[Ceiling, ...]:
    """Find every limit that the labels of a mix set for one piece of ground.

    Parameters
    ----------
    products : Sequence[Product]
        The mix. [-]

    Returns
    -------
    tuple[Ceiling, ...]
        The limits, product by product, each product's own before its ingredients'. [L or kg/m²]

    Raises
    ------
    Nothing
        A label without limits has none.

    References
    ----------
    The labels; what nobody copied is unknown, not unlimited.
    """
    return tuple(ceiling for product in products for ceiling in _of_label(product, products))


def _of_label(product: Product, mix: Iterable[Product]) -> Iterator[Ceiling]:
    label = product.label
    if label.limits.is_set:
        yield Ceiling(product, None, label.limits, {product.name: 1.0})
    for ingredient in label.active_ingredients or ():
        if not ingredient.limits.is_set:
            continue
        shares = {
            other.name: share
            for other in mix
            if (share := amount_of(ingredient.name, other.contents or ())) > 0
        }
        yield Ceiling(product, ingredient.name, ingredient.limits, shares)
