"""The buying list of a firm: what its planned jobs need, less what is in stock."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from planner.core.label.labels import Form
from planner.core.shown import Units
from planner.core.stock.buying import BuyingList, Line, Period, Unused, buying_list
from planner.core.stock.containers import amount_in
from planner.core.stock.covering import Offer
from planner.core.stock.figures import need_figure, short_figure
from planner.core.stock.needs import Total
from planner.models import Container, Product
from planner.selectors.needs import Needs, planned_needs
from planner.selectors.stock import ProductStock, form_of_product, stock_of
from properties.core.units import Quantity
from properties.core.working import Figure
from properties.models import Person

PERIODS = [(period.value, f"by {period.value}") for period in Period]


@dataclass(frozen=True)
class Order:
    """So many containers of one size."""

    count: int
    size: Quantity
    price: Decimal | None


@dataclass(frozen=True)
class Range:
    """An amount, and the ends of its band of 95 %."""

    amount: Quantity
    lowest: Quantity
    highest: Quantity
    working: Figure


@dataclass(frozen=True)
class BuyingLine:
    """One period of one product, in the units of who is reading."""

    line: Line
    planned: Range
    short: Quantity
    working: Figure
    left_over: Quantity
    orders: tuple[Order, ...]
    is_late: bool


@dataclass(frozen=True)
class Expiring:
    """What is left of a lot when it expires."""

    lot: str
    expires_on: date | None
    amount: Quantity


@dataclass(frozen=True)
class ProductBuying:
    """The buying list of one product."""

    product: Product
    list: BuyingList
    total: Range
    stock: ProductStock | None
    lines: tuple[BuyingLine, ...]
    expiring: tuple[Expiring, ...]
    uncovered: Quantity | None

    @property
    def has_more(self) -> bool:
        """Whether something else is to be looked at."""
        return bool(self.expiring or self.uncovered or self.list.total.without_range)


@dataclass(frozen=True)
class Buying:
    """The buying lists of a firm, and what nobody knows."""

    products: tuple[ProductBuying, ...]
    needs: Needs
    unmeasured: tuple[str, ...]
    period: str

    @property
    def cost(self) -> Decimal | None:
        """What all of it costs; None where a price is not known."""
        total = Decimal(0)
        for each in self.products:
            if each.list.cost is None or each.uncovered:
                return None
            total += each.list.cost
        return total

    @property
    def by_day(self) -> list[tuple[ProductBuying, BuyingLine]]:
        """What to order, the first to be ordered first; what has no day stands last."""
        orders = [(each, line) for each in self.products for line in each.lines if line.orders]
        return sorted(
            orders,
            key=lambda pair: (
                pair[1].line.order_by or pair[1].line.first_short_on or date.max,
                pair[0].product.name,
            ),
        )


def buying_of(person: Person, *, on: date, by: str = "") -> Buying:
    """Work out what a person’s firm has to buy, by week or, where nothing else is asked, month."""
    period = Period(by) if by in set(Period) else Period.MONTH
    needs = planned_needs(person, on=on)
    products = {row.name: row for row in Product.objects.filter(firm=person.firm_id)}
    wanted = [products[name] for name in sorted(needs.by_product) if name in products]
    stocks = {each.product.pk: each for each in stock_of(person, on=on, products=wanted)}
    offered = _offered(wanted)
    told, unmeasured = [], []
    for product in wanted:
        form = form_of_product(product)
        if form is None:
            unmeasured.append(product.name)
            continue
        stock = stocks.get(product.pk)
        found = buying_list(
            needs.by_product[product.name],
            lots=() if stock is None else stock.states,
            offers=[_offer(each) for each in offered.get(product.pk, [])],
            period=period,
        )
        reading = _Reading(person, form, on)
        containers = {each.pk: each for each in offered.get(product.pk, [])}
        told.append(reading.told(product, found, stock, containers))
    return Buying(tuple(told), needs, tuple(unmeasured), period.value)


def _offered(products: list[Product]) -> dict[int, list[Container]]:
    told: dict[int, list[Container]] = {}
    for each in Container.objects.filter(product__in=products, is_offered=True):
        told.setdefault(each.product_id, []).append(each)
    return told


def _offer(container: Container) -> Offer:
    return Offer(container.pk, container.size.si, container.price, container.lead_days)


@dataclass(frozen=True)
class _Reading:
    """Writes a buying list in the units of who is reading, on the day they do."""

    person: Person
    form: Form
    on: date

    def told(
        self,
        product: Product,
        found: BuyingList,
        stock: ProductStock | None,
        containers: Mapping[int, Container],
    ) -> ProductBuying:
        return ProductBuying(
            product,
            found,
            self._range(found.total),
            stock,
            tuple(self._line(line, containers) for line in found.lines),
            tuple(self._expiring(each, stock) for each in found.expiring),
            self._amount(found.uncovered) if found.uncovered else None,
        )

    def _line(self, line: Line, containers: Mapping[int, Container]) -> BuyingLine:
        orders = tuple(
            Order(each.count, containers[each.offer.key].size, each.offer.price)
            for each in line.buy
        )
        return BuyingLine(
            line,
            self._range(line.planned),
            self._amount(line.short),
            short_figure(line, form=self.form, units=Units(self.person.units)),
            self._amount(line.left_over),
            orders,
            line.order_by is not None and line.order_by < self.on,
        )

    def _range(self, total: Total) -> Range:
        return Range(
            self._amount(total.amount),
            self._amount(total.lowest),
            self._amount(total.highest),
            need_figure(total, form=self.form, units=Units(self.person.units)),
        )

    def _amount(self, si: float) -> Quantity:
        return amount_in(si, form=self.form, units=Units(self.person.units))

    def _expiring(self, unused: Unused, stock: ProductStock | None) -> Expiring:
        lot = unused.lot
        name = self._lot(stock, lot.shelf.lot)
        return Expiring(name, lot.expires_on, self._amount(unused.amount))

    def _lot(self, stock: ProductStock | None, key: int | None) -> str:
        shelves = () if stock is None else stock.shelves
        lots = (each.lot for each in shelves if each.lot is not None and each.lot.pk == key)
        return str(next(lots, "no known lot"))
