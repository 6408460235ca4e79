"""What a person’s firm has in stock, as its ledger says."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import QuerySet

from planner.core.findings import Finding
from planner.core.label.labels import RATE_KINDS, Form
from planner.core.shown import Units
from planner.core.stock.containers import FORMS, amount_in, filled, form_of
from planner.core.stock.figures import balance_figure
from planner.core.stock.findings import NamedShelf, Reader, stock_findings
from planner.core.stock.ledger import Balance, Kind, Movement, Shelf, balance_of, balances_of
from planner.core.stock.lots import LotInStock, to_load
from planner.core.stock.valuation import Purchase, Valuation, price_of_one, valuation_of
from planner.models import Container, Lot, Product, StockEntry, Store
from planner.models import Movement as Line
from planner.selectors.purchases import purchases_of
from properties.core.units import Quantity
from properties.core.working import Figure
from properties.models import Person

NO_LOT = "no known lot"


def stores_of(person: Person) -> QuerySet[Store]:
    """List the places where a person’s firm keeps products."""
    return Store.objects.filter(firm=person.firm_id)


def containers_of(person: Person) -> QuerySet[Container]:
    """List the containers in which a person’s firm can buy."""
    return Container.objects.filter(product__firm=person.firm_id).select_related("product")


def lots_of(person: Person) -> QuerySet[Lot]:
    """List the lots of a person’s firm."""
    return Lot.objects.filter(product__firm=person.firm_id).select_related("product", "container")


def entries_of(person: Person) -> QuerySet[StockEntry]:
    """List what moved the stock of a person’s firm, the newest first."""
    return StockEntry.objects.filter(firm=person.firm_id).select_related(
        "entered_by", "undone_by", "undoes"
    )


def lines_of(person: Person) -> QuerySet[Line]:
    """List the lines of the ledger of a person’s firm, the newest first."""
    return Line.objects.filter(entry__firm=person.firm_id).select_related(
        "entry__entered_by", "entry__undone_by", "lot", "store", "product"
    )


def form_of_product(product: Product) -> Form | None:
    """Tell whether a product is poured or weighed; None where neither label nor shelf says."""
    for told in (product.rate_max, product.rate_min):
        if told is not None and told.dimension in RATE_KINDS:
            return RATE_KINDS[told.dimension].form
    container = product.containers.first()
    return None if container is None else form_of(container.size)


def has_books(product: Product, *, on: date) -> bool:
    """Whether the books of a product reach back to a day: what was loaded before is not in them."""
    return product.movements.filter(entry__on__lte=on).exists()


@dataclass(frozen=True)
class ShelfStock:
    """One lot at one place, with its balance and how that came about."""

    lot: Lot | None
    store: Store
    state: LotInStock
    balance: Balance
    working: Figure

    @property
    def holds(self) -> str:
        """How many full containers that is, and whether one is opened."""
        if self.lot is None or self.balance.amount <= 0:
            return ""
        told = filled(self.balance.amount, size=self.lot.container.size.si)
        full = f"{told.full} full" if told.full else ""
        opened = "one opened" if told.opened else ""
        return " and ".join(part for part in (full, opened) if part)


@dataclass(frozen=True)
class ProductStock:
    """Everything a firm has of one product."""

    product: Product
    form: Form
    shelves: tuple[ShelfStock, ...]
    balance: Balance
    working: Figure
    valuation: Valuation
    price_of_one: Decimal | None
    findings: tuple[Finding, ...]

    @property
    def asks_for_count(self) -> bool:
        """Whether some shelf has to be counted before anybody can trust it."""
        return any(shelf.balance.asks_for_count for shelf in self.shelves)

    @property
    def next_expiry(self) -> date | None:
        """When the first of what is left expires."""
        days = (shelf.state.expires_on for shelf in self.shelves if shelf.balance.amount > 0)
        return min((day for day in days if day is not None), default=None)

    @property
    def states(self) -> tuple[LotInStock, ...]:
        """What is left of each lot at each place."""
        return tuple(shelf.state for shelf in self.shelves)


def ledger_of(firm_id: int, products: Iterable[int] | None = None) -> dict[int, list[Movement]]:
    """Read the ledger of a firm by product."""
    rows = Line.objects.filter(entry__firm=firm_id)
    if products is not None:
        rows = rows.filter(product__in=products)
    told: dict[int, list[Movement]] = defaultdict(list)
    for product, lot, store, amount, found, kind, on, at in rows.order_by().values_list(
        "product_id",
        "lot_id",
        "store_id",
        "amount",
        "found",
        "entry__kind",
        "entry__on",
        "entry__entered_at",
    ):
        told[product].append(
            Movement(
                Shelf(lot, store),
                Kind(kind),
                amount.si,
                on,
                at,
                None if found is None else found.si,
            )
        )
    return told


def shelf_balance(product: Product, lot: Lot | None, store: Store) -> Balance:
    """Sum up the movements of one lot at one place."""
    shelf = Shelf(None if lot is None else lot.pk, store.pk)
    rows = ledger_of(product.firm_id, [product.pk]).get(product.pk, [])
    return balance_of(row for row in rows if row.shelf == shelf)


def loadable_lots(product: Product, *, on: date) -> tuple[LotInStock, ...]:
    """List what may be loaded of a product, in the order in which it should be."""
    rows = ledger_of(product.firm_id, [product.pk]).get(product.pk, [])
    lots = {lot.pk: lot for lot in product.lots.all()}
    return to_load(
        [_state(shelf, each.amount, lots) for shelf, each in balances_of(rows).items()], on=on
    )


def stock_of(
    person: Person, *, on: date, products: Sequence[Product] | None = None
) -> list[ProductStock]:
    """Work out what a person’s firm has of each product that it keeps books of."""
    ledger = ledger_of(person.firm_id, None if products is None else [p.pk for p in products])
    rows = products
    if rows is None:
        kept = Container.objects.filter(product__firm=person.firm_id).values("product")
        rows = list(
            Product.objects.filter(firm=person.firm_id, pk__in=[*ledger])
            | Product.objects.filter(firm=person.firm_id, pk__in=kept)
        )
    books = _Books.of(person, rows)
    stocks = (_stock(product, ledger.get(product.pk, []), books, on) for product in rows)
    return [stock for stock in stocks if stock is not None]


@dataclass(frozen=True)
class _Books:
    """What belongs to several products, read at once."""

    units: Units
    stores: Mapping[int, Store]
    lots: Mapping[int, Lot]
    bought: Mapping[int, list[Purchase]]

    @classmethod
    def of(cls, person: Person, products: Sequence[Product]) -> "_Books":
        lots = Lot.objects.filter(product__in=products).select_related("container")
        return cls(
            Units(person.units),
            {store.pk: store for store in stores_of(person)},
            {lot.pk: lot for lot in lots},
            purchases_of(person.firm, products),
        )


def _stock(product: Product, rows: list[Movement], books: _Books, on: date) -> ProductStock | None:
    form = form_of_product(product)
    if form is None:
        return None
    shelves = tuple(
        _shelf(shelf, balance, books, form) for shelf, balance in balances_of(rows).items()
    )
    whole, bought = balance_of(rows), books.bought.get(product.pk, [])
    return ProductStock(
        product,
        form,
        tuple(sorted(shelves, key=_in_order)),
        whole,
        balance_figure(whole, name=f"{product} in stock", form=form, units=books.units),
        valuation_of(bought, on_hand=whole.amount),
        price_of_one(bought),
        _findings(shelves, on, Reader(form, books.units)),
    )


def _shelf(shelf: Shelf, balance: Balance, books: _Books, form: Form) -> ShelfStock:
    lot = None if shelf.lot is None else books.lots[shelf.lot]
    store = books.stores[shelf.store]
    name = f"{store}, {lot or NO_LOT}"
    return ShelfStock(
        lot,
        store,
        _state(shelf, balance.amount, books.lots),
        balance,
        balance_figure(balance, name=name, form=form, units=books.units),
    )


def _state(shelf: Shelf, amount: float, lots: Mapping[int, Lot]) -> LotInStock:
    if shelf.lot is None:
        return LotInStock(shelf, amount, None, date.max)
    lot = lots[shelf.lot]
    return LotInStock(shelf, amount, lot.expires_on, lot.bought_on)


def _in_order(shelf: ShelfStock) -> tuple[date, date, str]:
    return (shelf.state.expires_on or date.max, shelf.state.bought_on, shelf.store.name)


def _findings(shelves: Sequence[ShelfStock], on: date, reader: Reader) -> tuple[Finding, ...]:
    named = [
        NamedShelf(each.store.name, str(each.lot or NO_LOT), each.state, each.balance)
        for each in shelves
    ]
    return stock_findings(named, on=on, reader=reader).warnings


@dataclass(frozen=True)
class Value:
    """What a whole stock is worth, and of how many products not all is priced."""

    amount: Decimal
    not_known: int


def value_of(stocks: Sequence[ProductStock]) -> Value:
    """Add up what is known to have been paid for what is there."""
    return Value(
        sum((stock.valuation.value for stock in stocks), Decimal(0)),
        sum(not stock.valuation.is_known for stock in stocks),
    )


def shelves_at(person: Person, store: Store) -> list[tuple[Product, Lot | None]]:
    """List what to count at a place: what the books have there, and what is missing from them."""
    found = []
    for stock in stock_of(person, on=date.min):
        found += [
            (stock.product, shelf.lot)
            for shelf in stock.shelves
            if shelf.store == store and shelf.balance.amount
        ]
    return found


def on_shelf(amount: Quantity, units: str) -> Quantity:
    """Say an amount as a shelf is counted, in the units of who is reading."""
    return amount_in(amount.si, form=FORMS[amount.dimension], units=Units(units))
