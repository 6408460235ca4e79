"""Plants that are treated one by one: how many, and what each of them gets."""

from dataclasses import dataclass, replace

from planner.core.label.labels import Basis, Limits
from planner.core.mix.products import Product
from properties.core.units import Quantity

#: A tank that falls short of one more plant by so little holds it.
_SAME = 1e-12


@dataclass(frozen=True)
class Plants:
    """How many plants there are, and how much finished spray each of them gets.

    ``counted`` are the refs of the drawn points they were counted from, none where somebody
    told the number; ``uncounted`` what is drawn as a line or an area, which has no number.
    """

    count: int
    spray_each: Quantity
    counted: tuple[str, ...] = ()
    uncounted: tuple[str, ...] = ()

    @property
    def spray_l(self) -> float:
        """Finished spray for all of them."""
        return self.count * self.spray_each.si


def in_spray(product: Product, spray_each: Quantity) -> Product:
    """Turn what each plant gets of a product into what a volume of spray holds of it.

    Parameters
    ----------
    product : Product
        A product with a rate for each plant, or for a volume of spray. [-]
    spray_each : Quantity
        Finished spray that each plant gets, > 0. [volume]

    Returns
    -------
    Product
        The product with the rate and the ends of its label per volume of spray; as it was
        where they are that already. [L or kg per L]

    Raises
    ------
    Nothing
        The volume was checked at the door.

    References
    ----------
    By definition: concentration = product for each plant / spray for each plant.
    """
    if product.kind.basis is not Basis.PLANT:
        return product

    def mixed(amount: Quantity) -> Quantity:
        return Quantity(amount.value / spray_each.value, f"{amount.unit}/{spray_each.unit}")

    ends = product.label.rate
    lowest, highest = (None if end is None else mixed(end) for end in (ends.lowest, ends.highest))
    label = replace(product.label, rate=Limits(lowest, highest))
    return replace(product, rate=mixed(product.rate), label=label)


def whole_plants_l(plants: Plants, *, fill_l: float, stays_l: float) -> float:
    """Find how far a tank is filled so that it ends with a whole plant.

    Parameters
    ----------
    plants : Plants
        The plants. [-]
    fill_l : float
        How far the tank may be filled, > 0. [L]
    stays_l : float
        What of that cannot be sprayed, ≥ 0 and less than the fill. [L]

    Returns
    -------
    float
        The fill for as many whole plants as go in; the whole fill where not even one does. [L]

    Raises
    ------
    Nothing
        Any tank will do.

    References
    ----------
    Our own rule: nobody stops in the middle of a plant where it can be helped.
    """
    each_l = plants.spray_each.si
    whole = int((fill_l - stays_l) / each_l * (1 + _SAME))
    return stays_l + whole * each_l if whole else fill_l
