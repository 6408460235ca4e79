"""What a firm bought of its products, and what it paid."""

from collections import defaultdict
from collections.abc import Sequence
from decimal import Decimal

from planner.core.stock.valuation import Purchase
from planner.models import Movement as Line
from planner.models import Product
from properties.models import Firm


def purchases_of(firm: Firm, products: Sequence[Product]) -> dict[int, list[Purchase]]:
    """List what was bought of products, with what was paid for it; what was taken back is none."""
    bought = Line.objects.filter(
        entry__firm=firm, product__in=products, entry__kind="bought", entry__undone_by=None
    ).select_related("entry", "lot__container")
    told: dict[int, list[Purchase]] = defaultdict(list)
    for line in bought:
        told[line.product_id].append(Purchase(line.entry.on, line.amount.si, _paid(line)))
    return told


def _paid(line: Line) -> Decimal | None:
    if line.lot is None or line.lot.price_each is None:
        return None
    return line.lot.price_each * round(line.amount.si / line.lot.container.size.si)
