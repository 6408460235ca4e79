"""How the time to stay off the turf came about."""

from collections.abc import Iterator, Sequence

from planner.core.keep_off import keep_off_of
from planner.core.mix.products import Product
from planner.core.shown import in_unit
from properties.core.working import Figure, Input

SOURCE = (
    "The labels as they were copied; of two products the longer time holds (40 CFR 170.112(a)(3), "
    "older section number)."
)
HOURS = "h"


def keep_off_figures(products: Sequence[Product]) -> Iterator[Figure]:
    """Derive how long to stay off the turf.

    Parameters
    ----------
    products : Sequence[Product]
        The products of the mix. [-]

    Returns
    -------
    Iterator[Figure]
        One derivation, or none where no label gives a time. [h]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    The derivation names its own.
    """
    keep_off = keep_off_of(products)
    if keep_off is None or keep_off.time is None:
        return
    inputs = tuple(
        Input(f"time {number}", in_unit(time, HOURS))
        for number, (_, time) in enumerate(keep_off.times, start=1)
    )
    names = ", ".join(
        f"{each.name} is {product.name}"
        for each, (product, _) in zip(inputs, keep_off.times, strict=True)
    )
    yield Figure(
        "keep_off.time",
        f"How long people and animals stay off at least ({names})",
        f"max({', '.join(each.name for each in inputs)})",
        inputs,
        in_unit(keep_off.time, HOURS),
        SOURCE,
    )
