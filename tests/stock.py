"""An invented shelf for page tests: a shop, a truck, jugs of a herbicide and a lot."""

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from planner.models import Container, Job, Lot, Product, Programme, StockEntry, Store
from planner.services.jobs import make_jobs
from planner.services.stock import Act, Purchase, buy, keep_container, keep_store
from properties.core.units import Quantity
from properties.models import Firm, Person, Property

BOUGHT_ON = date(2026, 3, 20)
BOUGHT_AT = datetime(2026, 3, 20, 15, 0, tzinfo=UTC)


@pytest.fixture
def shop(firm: Firm) -> Store:
    """The shed."""
    return keep_store(Store(firm=firm, name="Shed"))


@pytest.fixture
def truck(firm: Firm) -> Store:
    """A truck."""
    return keep_store(Store(firm=firm, name="Truck 2", kind="truck"))


@pytest.fixture
def jug(product: Product) -> Container:
    """Jugs of 64 fl oz at 48.00, ten days on the way."""
    return keep_container(
        Container(
            product=product, size=Quantity(64.0, "fl oz"), price=Decimal("48.00"), lead_days=10
        )
    )


@pytest.fixture
def lot(jug: Container, shop: Store, owner: Person) -> Lot:
    """Two jugs in the shed, good until the end of 2027."""
    act = Act(owner, BOUGHT_ON, BOUGHT_AT)
    purchase = Purchase(jug, 2, "A-17", date(2027, 12, 31), Decimal("45.50"))
    lot = buy(purchase, store=shop, act=act).movements.get().lot
    assert lot is not None
    return lot


@pytest.fixture
def stock_entry(lot: Lot) -> StockEntry:
    """What bought the lot."""
    return StockEntry.objects.get(kind="bought", movements__lot=lot)


@pytest.fixture
def due_job(owner: Person, place: Property, programme: Programme) -> Job:
    """The first round of the season on the small lot."""
    return make_jobs(owner, place, programme, 2026, at=BOUGHT_AT)[0]
