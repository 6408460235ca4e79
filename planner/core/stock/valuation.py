"""What a stock is worth: first in, first out, to the cent.

Amounts in L or kg, money in the firm's currency.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from planner.core.money import ZERO, shared_out


@dataclass(frozen=True)
class Purchase:
    """What was bought of a product: how much, and what all of it cost. None is not known."""

    on: date
    amount: float
    cost: Decimal | None


@dataclass(frozen=True)
class Layer:
    """What is left of a purchase, and what that cost."""

    purchase: Purchase
    left: float
    cost: Decimal | None

    @property
    def used_cost(self) -> Decimal | None:
        """What was paid for the rest of the purchase, which is no longer there."""
        if self.cost is None or self.purchase.cost is None:
            return None
        return self.purchase.cost - self.cost


@dataclass(frozen=True)
class Valuation:
    """A stock, layer by layer, the newest first.

    ``unpriced`` is what is there without a known price: of a purchase without one, or found
    beyond all that was ever bought.
    """

    layers: tuple[Layer, ...]
    unpriced: float

    @property
    def value(self) -> Decimal:
        """What is known to have been paid for what is there."""
        return sum((each.cost for each in self.layers if each.cost is not None), ZERO)

    @property
    def used(self) -> Decimal:
        """What is known to have been paid for what is no longer there."""
        told = (each.used_cost for each in self.layers)
        return sum((cost for cost in told if cost is not None), ZERO)

    @property
    def is_known(self) -> bool:
        """Whether all that is there has a price."""
        return self.unpriced <= 0


def valuation_of(purchases: Sequence[Purchase], *, on_hand: float) -> Valuation:
    """Value what is there at what was paid for it, first in, first out.

    What was bought first is taken to be used first, so what is there is of the newest
    purchases. A purchase of which a part is left is shared out between what is left and
    what was used, so that both are the purchase to the cent. Which lot really went out does
    not matter: containers of one product stand for each other.

    Parameters
    ----------
    purchases : Sequence of Purchase
        All that was bought of one product, in any order. [L or kg, currency]
    on_hand : float
        What is there; below zero it is worth nothing. [L or kg]

    Returns
    -------
    Valuation
        Each purchase with what is left of it. [L or kg, currency]

    Raises
    ------
    Refused
        If a cost is not whole cents.

    References
    ----------
    IAS 2 Inventories, paragraphs 25 and 27: first in, first out, where items are ordinarily
    interchangeable. US GAAP allows it too (ASC 330-10-30-9).
    """
    left, layers = max(on_hand, 0.0), []
    for purchase in sorted(purchases, key=lambda each: each.on, reverse=True):
        here = min(left, purchase.amount)
        left -= here
        layers.append(Layer(purchase, here, _cost_of(purchase, here)))
    unpriced = sum(layer.left for layer in layers if layer.cost is None)
    return Valuation(tuple(layers), left + unpriced)


def price_of_one(purchases: Sequence[Purchase]) -> Decimal | None:
    """Work out what one L or kg costs: all that was paid over all that was bought for it.

    Parameters
    ----------
    purchases : Sequence of Purchase
        What was bought of one product. [L or kg, currency]

    Returns
    -------
    Decimal or None
        The mean price, not rounded; None where no price is known. [currency per L or kg]

    Raises
    ------
    Nothing
        Purchases without a price tell nothing.

    References
    ----------
    IAS 2 Inventories, paragraph 27: the weighted average of what was bought.
    """
    priced = [(each.amount, each.cost) for each in purchases if each.cost is not None]
    amount = sum(amount for amount, _ in priced)
    return sum((cost for _, cost in priced), ZERO) / Decimal(amount) if amount else None


def _cost_of(purchase: Purchase, left: float) -> Decimal | None:
    if purchase.cost is None:
        return None
    used = purchase.amount - left
    weights = [Decimal(part) for part in (left, used)]
    return shared_out(purchase.cost, weights)[0]
