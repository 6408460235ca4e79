"""Taking from the stock what was loaded: once, whoever tells it and however often."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from django.db import transaction
from django.db.models import QuerySet

from planner.core.stock.containers import form_of
from planner.core.stock.ledger import Kind
from planner.core.stock.lots import taken_from
from planner.models import Job, PastApplication, Product, StockEntry, Store
from planner.selectors.stock import form_of_product, has_books, loadable_lots
from planner.services.stock import Act, Shelf, enter, first_store, undo
from properties.core.units import Quantity, quantity_of_si
from properties.models import Property


@dataclass(frozen=True)
class Source:
    """What tells that something was loaded: a kind of thing, which one, and where it went."""

    kind: str
    name: str
    places: tuple[Property, ...] = ()
    application: PastApplication | None = None
    job: Job | None = None

    def key_of(self, product: Product) -> str:
        """What the entries of a product stand for; each adds its number, after a #."""
        return f"{self.kind}:{self.name}:{product.pk}#"

    def entries_for(self, product: Product) -> QuerySet[StockEntry]:
        """What was ever taken of a product for this."""
        return StockEntry.objects.filter(firm=product.firm_id, key__startswith=self.key_of(product))


@dataclass
class TakenSoFar:
    """What was taken for a source, and what was not: told before, or not to be compared."""

    entries: list[StockEntry] = field(default_factory=list)
    told_before: list[Product] = field(default_factory=list)
    #: Measured by weight where its containers hold a volume, or the other way round.
    other_measure: list[Product] = field(default_factory=list)


@transaction.atomic
def take_loaded(
    amounts: Iterable[tuple[Product, Quantity]], *, source: Source, act: Act
) -> TakenSoFar:
    """Take products that were loaded from the stock, the first to expire first.

    A product whose books do not reach back to that day is left alone. What the same source told
    already is not taken again, and neither is what another source told of that day for one
    of the same properties. What no lot holds stands below zero, and asks for a count.
    """
    told = TakenSoFar()
    for product, amount in amounts:
        if amount.si <= 0 or not has_books(product, on=act.on):
            continue
        Product.objects.select_for_update().get(pk=product.pk)
        if source.entries_for(product).filter(undone_by=None).exists():
            continue
        if form_of_product(product) is not form_of(amount):
            told.other_measure.append(product)
            continue
        if _told_by_another(product, source, act):
            told.told_before.append(product)
            continue
        told.entries.append(_take(product, amount, source, act))
    return told


def untake(source: Source, products: Iterable[Product], *, act: Act) -> None:
    """Put back what a source took, since it was told wrong."""
    for product in products:
        for entry in source.entries_for(product).filter(undone_by=None):
            undo(entry, act=act)


def source_of_application(row: PastApplication) -> Source:
    """Name a recorded application as what tells a load."""
    return Source("application", str(row.pk), (row.property,), application=row)


def source_of_job(job: Job) -> Source:
    """Name a job as what tells a load."""
    return Source("job", str(job.pk), (job.place,), job=job)


def _told_by_another(product: Product, source: Source, act: Act) -> bool:
    others = StockEntry.objects.filter(
        firm=product.firm_id,
        kind=Kind.LOADED.value,
        on=act.on,
        undone_by=None,
        movements__product=product,
        places__in=source.places,
    ).exclude(key__startswith=f"{source.kind}:")
    return others.exists()


def _take(product: Product, amount: Quantity, source: Source, act: Act) -> StockEntry:
    taken = taken_from(loadable_lots(product, on=act.on), amount.si, on=act.on)
    lots = {lot.pk: lot for lot in product.lots.select_related("container")}
    stores = {store.pk: store for store in Store.objects.filter(firm=product.firm_id)}
    lines: list[tuple[Shelf, float]] = [
        (Shelf(product, stores[take.shelf.store], lots.get(take.shelf.lot or 0)), take.amount)
        for take in taken.takes
    ]
    if taken.beyond > amount.si * 1e-9:
        lines = _with_beyond(lines, product, taken.beyond)
    entry = enter(
        Kind.LOADED,
        [(shelf, quantity_of_si(-part, shelf.unit or amount.unit)) for shelf, part in lines],
        act=act,
        key=f"{source.key_of(product)}{source.entries_for(product).count() + 1}",
    )
    entry.places.set(source.places)
    entry.application, entry.job = source.application, source.job
    entry.save(update_fields=["application", "job"])
    return entry


def _with_beyond(
    lines: Sequence[tuple[Shelf, float]], product: Product, beyond: float
) -> list[tuple[Shelf, float]]:
    """Put what no lot holds on the last that was taken from, else on no known lot."""
    if lines:
        shelf, part = lines[-1]
        return [*lines[:-1], (shelf, part + beyond)]
    return [(Shelf(product, first_store(product.firm)), beyond)]
