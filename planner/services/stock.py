"""Moving stock: each act is one entry of the ledger, which is only ever added to."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.db import transaction

from planner.core.stock.containers import form_of
from planner.core.stock.ledger import Kind, counted_difference, signed
from planner.models import Container, Lot, Movement, Product, StockEntry, Store
from planner.selectors.stock import form_of_product, shelf_balance
from properties.core.errors import Refused
from properties.core.units import Quantity, quantity_of_si
from properties.models import Firm, Person

#: Nobody carries more of one size home at a time.
MOST_AT_ONCE = 10_000


@dataclass(frozen=True)
class Act:
    """Who moves stock, on which day, when they say so, and why."""

    person: Person
    on: date
    at: datetime
    why: str = ""

    def check(self) -> None:
        """Refuse a day that has not come yet."""
        if self.on > self.at.date():
            raise Refused("on", "This day has not come yet.", "Enter it once it is done.")


@dataclass(frozen=True)
class Purchase:
    """Containers that came together: how many, their lot and expiry, and what each cost."""

    container: Container
    count: int
    number: str
    expires_on: date | None = None
    price_each: Decimal | None = None


@dataclass(frozen=True)
class Shelf:
    """One lot of a product at one place; no lot where nobody knows of which it is."""

    product: Product
    store: Store
    lot: Lot | None = None

    @property
    def unit(self) -> str:
        """The unit in which it is counted, as its containers have it."""
        container = self.lot.container if self.lot else self.product.containers.first()
        return "" if container is None else container.size.unit


def keep_store(store: Store) -> Store:
    """Keep a place where products stand."""
    store.full_clean()
    store.save()
    return store


def first_store(firm: Firm) -> Store:
    """Give the place that is taken where nobody names one; the first is the shop."""
    return Store.objects.filter(firm=firm).first() or keep_store(Store(firm=firm, name="Shop"))


def keep_container(container: Container) -> Container:
    """Keep a size in which a product can be bought.

    Refused where a product that is poured would come by weight, or the other way round, or
    where the size of one that was bought would change.
    """
    container.full_clean()
    check_form(container.product, container.size, field="size")
    before = Container.objects.filter(pk=container.pk).first()
    if before is not None and before.size != container.size and before.lots.exists():
        raise Refused(
            "size",
            f"Lots in containers of {before.size} are in the books.",
            "Enter the other size as a container of its own.",
        )
    container.save()
    return container


def check_form(product: Product, amount: Quantity, *, field: str) -> None:
    """Refuse a weight of what is poured, and a volume of what is weighed."""
    form, told = form_of_product(product), form_of(amount, field=field)
    if form is not None and told is not form:
        what = "measured by volume" if form == "liquid" else "weighed"
        raise Refused(
            field,
            f"{amount} is a {amount.dimension}, and {product} is {what}.",
            "Enter it in the measure of its label.",
        )


@transaction.atomic
def buy(purchase: Purchase, *, store: Store, act: Act) -> StockEntry:
    """Enter containers that came in, as a lot of their own."""
    if not 0 < purchase.count <= MOST_AT_ONCE:
        raise Refused("count", f"{purchase.count} is not a number of containers.", "Count them.")
    if purchase.expires_on is not None and purchase.expires_on < act.on:
        raise Refused(
            "expires_on",
            "It had expired on the day it came.",
            "Look at the container again; what has expired belongs back to the dealer.",
        )
    product = purchase.container.product
    lot = Lot(
        product=product,
        container=purchase.container,
        number=purchase.number,
        expires_on=purchase.expires_on,
        bought_on=act.on,
        price_each=purchase.price_each,
    )
    lot.full_clean()
    lot.save()
    size = purchase.container.size
    amount = Quantity(purchase.count * size.value, size.unit)
    return enter(Kind.BOUGHT, [(Shelf(product, store, lot), amount)], act=act)


def keep_lot(lot: Lot) -> Lot:
    """Keep what stands on the containers of a lot; what moved it is not touched."""
    if lot.expires_on is not None and lot.expires_on < lot.bought_on:
        raise Refused(
            "expires_on", "It had expired on the day it came.", "Look at the container again."
        )
    lot.full_clean()
    lot.save()
    return lot


@transaction.atomic
def move(shelf: Shelf, amount: Quantity, *, to: Store, act: Act) -> StockEntry:
    """Carry something to another place. Refused if it is more than stands there."""
    if to == shelf.store:
        raise Refused("to", f"It stands in {to} already.", "Choose another place.")
    signed(Kind.BOUGHT, amount.si)
    check_form(shelf.product, amount, field="amount")
    there = shelf_balance(shelf.product, shelf.lot, shelf.store).amount
    if amount.si > there * (1 + 1e-9):
        raise Refused(
            "amount",
            f"The books have {quantity_of_si(there, amount.unit)} there.",
            "Carry less, or count what stands there first.",
        )
    out = Quantity(-amount.value, amount.unit)
    lines = [(shelf, out), (Shelf(shelf.product, to, shelf.lot), amount)]
    return enter(Kind.MOVED, lines, act=act)


def load(shelf: Shelf, amount: Quantity, *, act: Act) -> StockEntry:
    """Enter what was loaded. More than is there stands, and asks for a count."""
    return _out(Kind.LOADED, shelf, amount, act)


def dispose(shelf: Shelf, amount: Quantity, *, act: Act) -> StockEntry:
    """Enter what was disposed of, and where it went. Refused where nobody says."""
    if not act.why.strip():
        raise Refused("why", "Nobody says where it went.", "Write who took it, or the receipt.")
    return _out(Kind.DISPOSED, shelf, amount, act)


@transaction.atomic
def give_back(shelf: Shelf, amount: Quantity, *, act: Act) -> StockEntry:
    """Enter unused product that came back. What is mixed with water is no product any more."""
    check_form(shelf.product, amount, field="amount")
    signed(Kind.RETURNED, amount.si)
    return enter(Kind.RETURNED, [(shelf, amount)], act=act)


@transaction.atomic
def correct(shelf: Shelf, difference: Quantity, *, act: Act) -> StockEntry:
    """Add to the books, or take from them, what was entered wrong. Refused without a reason."""
    signed(Kind.CORRECTED, difference.si)
    check_form(shelf.product, Quantity(abs(difference.value), difference.unit), field="amount")
    if not act.why.strip():
        raise Refused("why", "Nobody says why.", "Write what was wrong.")
    return enter(Kind.CORRECTED, [(shelf, difference)], act=act)


@transaction.atomic
def count(found: Mapping[Shelf, Quantity], *, act: Act) -> StockEntry:
    """Enter what was counted. Where books and shelf disagree, the difference is booked."""
    if not found:
        raise Refused("", "Nothing was counted.", "Enter what stands there; 0 if nothing does.")
    _lock(shelf.product for shelf in found)
    entry = _entry(Kind.COUNTED, act)
    for shelf, quantity in found.items():
        book = shelf_balance(shelf.product, shelf.lot, shelf.store).amount
        difference = counted_difference(quantity.si, book=book)
        _line(entry, shelf, quantity_of_si(difference, quantity.unit), found=quantity)
    return entry


@transaction.atomic
def undo(entry: StockEntry, *, act: Act) -> StockEntry:
    """Take an entry back by its opposite; both stay to be read. Once is enough.

    Refused of what took something back itself: what is right is entered anew.
    """
    if entry.undoes_id is not None:
        raise Refused("", "This took something back.", "Enter what is right anew.")
    _lock(line.product for line in entry.movements.all())
    done = StockEntry.objects.filter(undoes=entry).first()
    if done is not None:
        return done
    back = _entry(Kind.CORRECTED, act, undoes=entry)
    for line in entry.movements.all():
        opposite = Quantity(-line.amount.value, line.amount.unit)
        _line(back, Shelf(line.product, line.store, line.lot), opposite)
    return back


@transaction.atomic
def _out(kind: Kind, shelf: Shelf, amount: Quantity, act: Act) -> StockEntry:
    check_form(shelf.product, amount, field="amount")
    signed(kind, amount.si)
    return enter(kind, [(shelf, Quantity(-amount.value, amount.unit))], act=act)


def enter(
    kind: Kind,
    lines: Sequence[tuple[Shelf, Quantity]],
    *,
    act: Act,
    key: str | None = None,
) -> StockEntry:
    """Write one entry of the ledger with its lines."""
    act.check()
    entry = _entry(kind, act, key=key)
    for shelf, amount in lines:
        _line(entry, shelf, amount)
    return entry


def _entry(
    kind: Kind, act: Act, *, key: str | None = None, undoes: StockEntry | None = None
) -> StockEntry:
    entry = StockEntry(
        firm=act.person.firm,
        kind=kind.value,
        on=act.on,
        why=act.why,
        entered_by=act.person,
        entered_at=act.at,
        key=key,
        undoes=undoes,
    )
    entry.full_clean()
    entry.save()
    return entry


def _line(
    entry: StockEntry, shelf: Shelf, amount: Quantity, *, found: Quantity | None = None
) -> None:
    line = Movement(
        entry=entry,
        product=shelf.product,
        lot=shelf.lot,
        store=shelf.store,
        amount=amount,
        found=found,
    )
    line.full_clean()
    line.save()


def _lock(products: Iterable[Product]) -> None:
    """Let nobody else move these products before this is done."""
    keys = sorted({product.pk for product in products})
    list(Product.objects.select_for_update().filter(pk__in=keys))
