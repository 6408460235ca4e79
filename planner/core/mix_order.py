"""The products of a request in the order in which they go into the tank."""

from planner.core.mix.mixing import mixing_order
from planner.core.mix.products import Product
from planner.core.request import PlanRequest


def in_mixing_order(request: PlanRequest) -> tuple[Product, ...]:
    """Put the products of a mix in the order in which they go into the tank.

    Parameters
    ----------
    request : PlanRequest
        The mix as it was asked for, perhaps with the order of a label. [-]

    Returns
    -------
    tuple of Product
        The same products. [-]

    Raises
    ------
    Nothing
        Any mix has an order.

    References
    ----------
    See ``mixing_order``. A label's own order prevails.
    """
    products, told = request.products, request.mixing.order
    if told is not None:
        return tuple(sorted(products, key=lambda product: told.index(product.name)))
    positions = mixing_order(
        [product.formulation for product in products],
        late=[product.is_liquid and not product.by_area for product in products],
    )
    return tuple(products[position] for position in positions)
