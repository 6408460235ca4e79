"""The ledger of a firm: bought, carried, counted, loaded, taken back."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from planner.models import (
    Container,
    KeptPlan,
    Lot,
    Movement,
    PastApplication,
    Product,
    StockEntry,
    Store,
)
from planner.selectors.applications import sprayed_parts_of
from planner.selectors.stock import ProductStock, stock_of
from planner.services.applications import Entered, record_application, record_sprayed, strike_out
from planner.services.stock import (
    Act,
    Purchase,
    Shelf,
    buy,
    correct,
    count,
    dispose,
    give_back,
    keep_container,
    load,
    move,
    undo,
)
from planner.services.taking import Source, take_loaded, untake
from properties.core.errors import Refused
from properties.core.units import Quantity
from properties.models import Person, Property

APRIL_20 = date(2026, 4, 20)
AT = datetime(2026, 4, 20, 18, 0, tzinfo=UTC)


def fl_oz(value: float) -> Quantity:
    return Quantity(value, "fl oz")


@pytest.fixture
def act(owner: Person) -> Act:
    return Act(owner, APRIL_20, AT, "at the end of the day")


@pytest.fixture
def shelf(lot: Lot, shop: Store) -> Shelf:
    return Shelf(lot.product, shop, lot)


def _books(person: Person, product: Product, *, on: date = APRIL_20) -> ProductStock:
    (stock,) = stock_of(person, on=on, products=[product])
    return stock


def _in_stock(person: Person, product: Product) -> float:
    return round(Quantity(1, "L").to("fl oz").value * _books(person, product).balance.amount, 6)


def test_two_jugs_are_in_stock_and_worth_what_they_cost(owner: Person, lot: Lot) -> None:
    books = _books(owner, lot.product)

    assert _in_stock(owner, lot.product) == 128
    assert books.shelves[0].holds == "2 full"
    assert books.valuation.value == Decimal("91.00")
    assert books.next_expiry == date(2027, 12, 31)


def test_a_weight_of_what_is_poured_is_refused(product: Product) -> None:
    with pytest.raises(Refused, match="measured by volume"):
        keep_container(Container(product=product, size=Quantity(10.0, "lb")))


def test_the_size_of_what_was_bought_is_not_changed(jug: Container, lot: Lot) -> None:
    jug.size = fl_oz(32.0)

    with pytest.raises(Refused, match="in the books"):
        keep_container(jug)


def test_a_lot_is_entered_once(jug: Container, lot: Lot, shop: Store, owner: Person) -> None:
    with pytest.raises(ValidationError, match="entered for that day already"):
        buy(Purchase(jug, 1, "A-17"), store=shop, act=Act(owner, lot.bought_on, AT))

    assert Lot.objects.count() == 1


@pytest.mark.parametrize(
    ("purchase", "problem"),
    [({"count": 0}, "not a number of containers"), ({"expires_on": date(2026, 4, 1)}, "expired")],
)
def test_what_cannot_have_been_bought_is_refused(
    jug: Container, shop: Store, act: Act, purchase: dict[str, object], problem: str
) -> None:
    told = {"count": 1, "number": "B-2"} | purchase

    with pytest.raises(Refused, match=problem):
        buy(Purchase(jug, **told), store=shop, act=act)  # type: ignore[arg-type]


def test_a_day_to_come_is_refused(shelf: Shelf, owner: Person) -> None:
    with pytest.raises(Refused, match="not come yet"):
        give_back(shelf, fl_oz(3.0), act=Act(owner, APRIL_20 + timedelta(days=1), AT))


def test_what_is_carried_to_a_truck_stays_in_stock(
    owner: Person, shelf: Shelf, truck: Store, act: Act
) -> None:
    move(shelf, fl_oz(64.0), to=truck, act=act)

    books = _books(owner, shelf.product)
    assert {each.store.name: each.holds for each in books.shelves} == {
        "Shed": "1 full",
        "Truck 2": "1 full",
    }
    assert _in_stock(owner, shelf.product) == 128
    with pytest.raises(Refused, match="The books have"):
        move(shelf, fl_oz(65.0), to=truck, act=act)
    with pytest.raises(Refused, match="stands in Shed already"):
        move(shelf, fl_oz(6.0), to=shelf.store, act=act)


def test_a_count_books_its_difference_and_keeps_what_was_told(
    owner: Person, shelf: Shelf, act: Act
) -> None:
    load(shelf, fl_oz(20.0), act=act)

    entry = count({shelf: fl_oz(104.0)}, act=act)

    line = entry.movements.get()
    assert line.amount.value == pytest.approx(-4.0)
    assert line.found == fl_oz(104.0)
    assert _in_stock(owner, shelf.product) == 104
    assert StockEntry.objects.filter(kind="loaded").count() == 1


def test_a_count_that_agrees_stands_in_the_books(shelf: Shelf, act: Act) -> None:
    entry = count({shelf: fl_oz(128.0)}, act=act)

    assert entry.movements.get().amount.value == pytest.approx(0.0)


def test_more_loaded_than_there_is_stands_and_asks_for_a_count(
    owner: Person, shelf: Shelf, act: Act
) -> None:
    load(shelf, fl_oz(130.0), act=act)

    books = _books(owner, shelf.product)
    assert books.asks_for_count
    (finding,) = books.findings
    assert finding.code == "stock_below_zero"
    assert "2 fl oz more went out" in finding.message


def test_a_correction_says_why(shelf: Shelf, act: Act, owner: Person) -> None:
    with pytest.raises(Refused, match="Nobody says why"):
        correct(shelf, fl_oz(-3.0), act=Act(owner, APRIL_20, AT))

    with pytest.raises(Refused, match="where it went"):
        dispose(shelf, fl_oz(3.0), act=Act(owner, APRIL_20, AT))

    correct(shelf, fl_oz(-3.0), act=act)
    assert _in_stock(owner, shelf.product) == 125


def test_an_entry_is_taken_back_once(owner: Person, shelf: Shelf, act: Act) -> None:
    entry = dispose(shelf, fl_oz(64.0), act=act)

    first, second = undo(entry, act=act), undo(entry, act=act)

    assert first == second
    assert _in_stock(owner, shelf.product) == 128
    assert Movement.objects.filter(entry__kind="disposed").exists()


def test_a_purchase_taken_back_is_worth_nothing(owner: Person, lot: Lot, act: Act) -> None:
    undo(StockEntry.objects.get(kind="bought"), act=act)

    books = _books(owner, lot.product)
    assert books.valuation.value == 0
    assert books.valuation.is_known


def test_the_first_to_expire_is_taken_first_and_the_expired_never(
    owner: Person, jug: Container, lot: Lot, shop: Store, act: Act
) -> None:
    on = Act(owner, date(2026, 3, 1), AT)
    buy(Purchase(jug, 1, "soon", date(2026, 6, 30)), store=shop, act=on)
    buy(Purchase(jug, 1, "over", date(2026, 4, 1)), store=shop, act=on)

    take_loaded([(lot.product, fl_oz(70.0))], source=Source("job", "1"), act=act)

    (entry,) = StockEntry.objects.filter(kind="loaded")
    taken = {
        line.lot.number: round(line.amount.value, 6) for line in entry.movements.all() if line.lot
    }
    assert taken == {"soon": -64, "A-17": -6}


def test_what_no_lot_holds_stands_on_no_known_lot(
    owner: Person, jug: Container, shop: Store, act: Act
) -> None:
    old = Act(owner, date(2026, 3, 1), AT)
    buy(Purchase(jug, 1, "over", date(2026, 4, 1)), store=shop, act=old)

    take_loaded([(jug.product, fl_oz(5.0))], source=Source("job", "1"), act=act)

    line = Movement.objects.get(entry__kind="loaded")
    assert (line.lot, line.store) == (None, shop)
    assert {each.code for each in _books(owner, jug.product).findings} == {
        "stock_below_zero",
        "stock_expired",
    }


def test_the_same_load_is_taken_once_however_often_it_is_told(
    owner: Person, lot: Lot, act: Act
) -> None:
    source, loads = Source("loads", "2026-04-20:1:1"), [(lot.product, fl_oz(40.0))]

    take_loaded(loads, source=source, act=act)
    take_loaded(loads, source=source, act=act)
    assert _in_stock(owner, lot.product) == 88

    untake(source, [lot.product], act=act)
    untake(source, [lot.product], act=act)
    assert _in_stock(owner, lot.product) == 128

    take_loaded([(lot.product, fl_oz(30.0))], source=source, act=act)
    assert _in_stock(owner, lot.product) == 98


def test_what_was_loaded_before_the_books_began_is_not_in_them(
    owner: Person, lot: Lot, place: Property
) -> None:
    early = Act(owner, date(2026, 3, 19), AT)

    told = take_loaded([(lot.product, fl_oz(40.0))], source=Source("job", "1"), act=early)

    assert told.entries == []
    assert _in_stock(owner, lot.product) == 128


def test_an_application_is_taken_from_the_stock_and_put_back_when_struck_out(
    owner: Person, lot: Lot, application: PastApplication, place: Property
) -> None:
    # The lawn has some 3,900 sq ft on the map, so 0.8 fl oz/1,000 sq ft is about 3.1 fl oz;
    # the turf area of the property is the same ground, measured another way.
    put_down = 0.8 * Quantity(place.turf_area_m2, "m2").to("sq ft").value / 1000
    assert _in_stock(owner, lot.product) == pytest.approx(128 - put_down, rel=1e-4)

    strike_out(application, entered=Entered(owner, AT, "another lawn"))

    assert _in_stock(owner, lot.product) == 128
    assert StockEntry.objects.filter(application=application).count() == 1


def test_a_kept_plan_takes_what_was_measured_out_for_it(
    owner: Person, lot: Lot, kept_plan: KeptPlan
) -> None:
    (part, *_) = sprayed_parts_of(kept_plan)
    rates = {each.key: each.rate for each in sprayed_parts_of(kept_plan)}
    entered = Entered(owner, AT)

    record_sprayed(kept_plan, applied_on=APRIL_20, rates=rates, entered=entered)

    assert _in_stock(owner, lot.product) == pytest.approx(128 - part.measured.to("fl oz").value)


def test_the_loads_of_a_day_and_an_application_of_it_are_not_taken_twice(
    owner: Person, lot: Lot, place: Property, act: Act
) -> None:
    source = Source("loads", "2026-04-20:1:1", (place,))
    take_loaded([(lot.product, fl_oz(12.0))], source=source, act=act)

    record_application(
        place,
        product=lot.product,
        rate=Quantity(0.8, "fl oz/1000 sq ft"),
        applied_on=APRIL_20,
        refs=["lawn"],
        entered=Entered(owner, AT),
    )

    assert _in_stock(owner, lot.product) == 116


def test_what_was_weighed_is_not_taken_from_what_is_poured(
    owner: Person, lot: Lot, act: Act
) -> None:
    source = Source("loads", "2026-04-20/1/1/1/1")

    told = take_loaded([(lot.product, Quantity(3.0, "oz wt"))], source=source, act=act)

    assert (told.entries, told.other_measure) == ([], [lot.product])
    assert _in_stock(owner, lot.product) == 128


def test_what_took_something_back_is_not_taken_back(shelf: Shelf, act: Act) -> None:
    back = undo(load(shelf, fl_oz(4.0), act=act), act=act)

    with pytest.raises(Refused, match="took something back"):
        undo(back, act=act)
