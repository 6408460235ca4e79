"""How long people and animals stay off the turf: what the labels of the mix ask for together."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.core.mix.products import Product
from properties.core.units import Quantity


@dataclass(frozen=True)
class KeepOff:
    """The longest time of the mix, None where no label told one, and each product's own."""

    time: Quantity | None
    until_dry: bool
    times: tuple[tuple[Product, Quantity], ...]


def keep_off_of(products: Sequence[Product]) -> KeepOff | None:
    """Join what the labels of a mix say about staying off the turf.

    Parameters
    ----------
    products : Sequence[Product]
        The products of the mix. [-]

    Returns
    -------
    KeepOff or None
        The longest of the times, or None where no label says anything. [s]

    Raises
    ------
    Nothing
        Any products can be joined.

    References
    ----------
    40 CFR 170.112(a)(3), older section number: of two products the longer interval holds.
    """
    times = tuple(
        (product, product.label.told.keep_off)
        for product in products
        if product.label.told.keep_off is not None
    )
    until_dry = any(product.label.told.until_dry for product in products)
    if not times and not until_dry:
        return None
    longest = max((time for _, time in times), key=lambda time: time.si, default=None)
    return KeepOff(longest, until_dry, times)
