"""The price of a piece of work, worked by hand and by its invariants."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.money import Step, Way
from planner.core.pricing import Band, Banding, Basis, Book, Discount, Price, When, price_of
from properties.core.errors import FaultsFound, Refused
from properties.core.units import Quantity
from tests.planner.core.pricing.asking import (
    NO_TAX,
    PRODUCT,
    SQ_FT_M2,
    VISIT,
    book,
    visit,
    work,
)


def amounts(price: Price) -> dict[str, str]:
    return {each.key: str(each.amount) for each in price.lines}


def codes(price: Price) -> list[str]:
    return [each.code for each in price.warnings]


# By hand: 12 fl oz at 160/320 with 5 % waste are 6.30; 15 min at 36/h 9.00; travel 6.00;
# setting up 3.00; a fifth of 24.30 is 4.86. So 29.16.
def test_the_cost_of_a_visit_is_that_worked_by_hand() -> None:
    price = price_of(work(taxes=(NO_TAX,)), book())

    assert price.cost == Decimal("29.16")
    assert amounts(price) | {
        "visits[0].material[0]": "6.30",
        "visits[0].work": "9.00",
        "visits[0].trimming": "0.00",
        "visits[0].travel": "6.00",
        "visits[0].set_up": "3.00",
        "visits[0].overhead": "4.86",
    } == amounts(price)


# By hand: 5,000 sq ft at 12 and 3,000 at 9 are 87.00; all 8,000 at 9 are 72.00.
@pytest.mark.parametrize(("banding", "asked"), [("marginal", "87.00"), ("whole", "72.00")])
def test_a_lawn_is_priced_by_the_bands_it_reaches(banding: str, asked: str) -> None:
    assert price_of(work(), book(banding=Banding(banding))).price == Decimal(asked)


# By hand: 29.16 / (1 − 0.4) is 48.60; 29.16 more 40 % of itself would be 40.82.
def test_a_margin_is_a_share_of_the_price_and_not_of_the_cost() -> None:
    price = price_of(work(), book(basis=Basis.COST))

    assert price.price == Decimal("48.60")
    assert price.margin_percent is not None
    assert price.margin_percent.result.value == Decimal("40.00")


@pytest.mark.parametrize(
    ("rate", "asked", "raised"),
    [("12", "96.00", None), ("6.00", "48.60", "0.60")],
)
def test_the_higher_of_list_and_cost_is_asked(rate: str, asked: str, raised: str | None) -> None:
    one_band = book(basis=Basis.HIGHER, bands=(Band(None, Decimal(rate)),))

    price = price_of(work(), one_band)

    assert price.price == Decimal(asked)
    assert amounts(price).get("visits[0].up_to_cost") == raised


def test_the_edge_is_asked_for_where_it_is_trimmed() -> None:
    trimming = book(trim=Decimal("0.05"))

    # By hand: 400 ft at 0.05 are 20.00; at 50 ft a minute and 36 an hour they cost 4.80.
    assert amounts(price_of(work(), trimming))["visits[0].trim"] == "20.00"
    assert amounts(price_of(work(), trimming))["visits[0].trimming"] == "4.80"
    assert "visits[0].trim" not in amounts(price_of(work(visit(trims=False)), trimming))


def test_a_small_lawn_pays_the_minimum() -> None:
    price = price_of(work(visit(area_m2=1000 * SQ_FT_M2)), book())

    assert amounts(price)["visits[0].minimum"] == "33.00"
    assert price.price == Decimal("45.00")


# By hand: 87.00 of the list to the dollar, with a price of 12.03 for the first band 87.15.
@pytest.mark.parametrize(
    ("way", "asked"), [(Way.HALF_UP, "87.00"), (Way.UP, "88.00"), (Way.HALF_EVEN, "87.00")]
)
def test_a_price_is_rounded_by_the_rule_of_the_book(way: Way, asked: str) -> None:
    bands = (Band(Decimal(5000), Decimal("12.03")), Band(None, Decimal(9)))

    price = price_of(work(), book(bands=bands, step=Step.DOLLAR, way=way))

    assert price.price == Decimal(asked)
    assert "visits[0].rounding" in amounts(price)


TEN_PERCENT = Discount("Programme", When.PROGRAMME, percent=Decimal(10), from_visits=2)
FIVE_OFF = Discount("Paid ahead", When.PREPAID, amount=Decimal(5))


# By hand: two visits of 87.00 are 174.00. Less 10 % is 156.60, less 5 is 151.60; the other
# way round it is 169.00 less 16.90.
@pytest.mark.parametrize(
    ("discounts", "asked"),
    [((TEN_PERCENT, FIVE_OFF), "151.60"), ((FIVE_OFF, TEN_PERCENT), "152.10")],
)
def test_discounts_are_taken_off_in_the_order_of_the_book(
    discounts: tuple[Discount, ...], asked: str
) -> None:
    price = price_of(work(VISIT, VISIT, prepaid=True), book(discounts=discounts))

    assert price.price == Decimal(asked)


def test_a_discount_is_given_only_where_it_is_due() -> None:
    price = price_of(work(), book(discounts=(TEN_PERCENT, FIVE_OFF)))

    assert price.price == Decimal("87.00")


def test_a_discount_of_more_than_the_price_leaves_nothing_and_says_so() -> None:
    price = price_of(work(prepaid=True), book(discounts=(replace(FIVE_OFF, amount=Decimal(500)),)))

    assert price.price == 0
    assert "discount_cut" in codes(price)
    assert price.margin_percent is None


def test_a_price_below_cost_is_told() -> None:
    cheap = book(bands=(Band(None, Decimal(1)),), minimum=Decimal(0))

    assert "below_cost" in codes(price_of(work(), cheap))
    assert "below_cost" not in codes(price_of(work(), book()))


def test_a_margin_below_that_of_the_book_is_told() -> None:
    thin = book(bands=(Band(None, Decimal(5)),), minimum=Decimal(0))

    assert "below_margin" in codes(price_of(work(), thin))
    assert "below_margin" not in codes(price_of(work(), book()))


def test_ground_without_passes_takes_the_pace_of_the_book() -> None:
    paced = price_of(work(visit(paced_m2=2000 * SQ_FT_M2)), book())

    # By hand: 15 min and 2 × 2.5 min at 36 an hour.
    assert amounts(paced)["visits[0].work"] == "12.00"


def test_a_visit_may_have_its_own_way_there() -> None:
    far = price_of(work(visit(travel_min=Decimal(25))), book())

    assert amounts(far)["visits[0].travel"] == "15.00"


@pytest.mark.parametrize(
    ("changed", "of_book", "field"),
    [
        ({"products": (replace(PRODUCT, cost=None),)}, {}, "products[0].cost"),
        ({"products": (replace(PRODUCT, amount=Quantity(1, "lb")),)}, {}, "products[0].cost"),
        ({"paced_m2": 100.0}, {"pace_min": None}, "pace_min"),
        ({}, {"trim": Decimal("0.05"), "trim_pace": None}, "trim_pace"),
    ],
)
def test_what_is_not_known_is_not_zero(
    changed: dict[str, Any], of_book: dict[str, Any], field: str
) -> None:
    with pytest.raises(FaultsFound) as found:
        price_of(work(visit(**changed)), book(**of_book))

    assert [fault.field for fault in found.value.faults] == [field]


def test_everything_unknown_is_told_at_once() -> None:
    blind = visit(products=(replace(PRODUCT, cost=None),) * 2, paced_m2=100.0)

    with pytest.raises(FaultsFound) as found:
        price_of(work(blind), book(pace_min=None))

    assert [fault.field for fault in found.value.faults] == ["products[0].cost", "pace_min"]


def test_what_a_later_visit_lacks_is_told_with_the_first() -> None:
    other = replace(PRODUCT, name="Invented feed", cost=None)
    blind = visit(products=(replace(PRODUCT, cost=None),))

    with pytest.raises(FaultsFound) as found:
        price_of(work(blind, VISIT, visit(products=(other,)), blind), book())

    told = [fault.problem for fault in found.value.faults]
    assert len(told) == 2
    assert "Invented herbicide" in told[0]
    assert "Invented feed" in told[1]


def test_no_visit_has_no_price() -> None:
    with pytest.raises(Refused, match="nothing to price"):
        price_of(replace(work(), visits=()), book())


cents_ = st.integers(0, 30_000).map(lambda n: Decimal(n) / 100)
percents = st.integers(0, 9_900).map(lambda n: Decimal(n) / 100)
books = st.builds(
    lambda basis, banding, rates, margin, step, way, discounts: book(
        basis=basis,
        banding=banding,
        bands=(
            Band(Decimal(4000), rates[0]),
            Band(Decimal(9000), rates[1]),
            Band(None, rates[2]),
        ),
        margin_percent=margin,
        step=step,
        way=way,
        discounts=discounts,
        trim=Decimal("0.04"),
    ),
    st.sampled_from(Basis),
    st.sampled_from(Banding),
    st.tuples(cents_, cents_, cents_),
    percents,
    st.sampled_from(Step),
    st.sampled_from(Way),
    st.lists(
        st.one_of(
            st.builds(Discount, st.just("A"), st.sampled_from(When), percents, st.none()),
            st.builds(Discount, st.just("B"), st.sampled_from(When), st.none(), cents_),
        ),
        max_size=3,
    ).map(tuple),
)
visits = st.builds(
    lambda thousands, off: visit(
        area_m2=thousands * 1000 * SQ_FT_M2, off_m2=off * thousands * 1000 * SQ_FT_M2
    ),
    st.floats(0.1, 20),
    st.floats(0, 0.3),
)
works = st.builds(
    lambda visits, prepaid: work(*visits, prepaid=prepaid),
    st.lists(visits, min_size=1, max_size=3),
    st.booleans(),
)


@given(work=works, book=books)
def test_all_parts_are_the_price_to_the_cent(work: Any, book: Book) -> None:
    price = price_of(work, book)

    for each in price.visits:
        assert sum(step.amount for step in each.steps) == each.price
        assert sum(line.amount for line in each.cost.lines) == each.cost.total
    off = sum(line.amount for line in price.discounts)
    assert sum(each.price for each in price.visits) + off == price.price
    assert sum(part.amount for part in price.make_up) == price.price
    assert price.price + price.tax == price.total.amount
    for line in price.lines:
        assert line.amount == line.amount.quantize(Decimal("0.01"))


@given(work=works, book=books)
def test_no_price_is_below_zero_and_no_visit_below_the_minimum(work: Any, book: Book) -> None:
    price = price_of(work, book)

    assert price.price >= 0
    assert all(each.price >= book.minimum for each in price.visits)


@given(work=works, book=books)
def test_the_margin_of_the_book_holds_before_rounding(work: Any, book: Book) -> None:
    for each in price_of(work, book).visits:
        kept = 1 - Fraction(each.cost.total) / Fraction(each.by_cost)
        # Decimals are divided to 28 digits.
        assert abs(kept - Fraction(book.margin_percent) / 100) < Fraction(1, 10**20)
        if book.basis is not Basis.AREA and book.step is Step.CENT:
            assert each.price >= each.by_cost - Decimal("0.005")


@given(book=books, sizes=st.tuples(st.floats(0.1, 20), st.floats(0.1, 20)))
def test_a_larger_lawn_never_costs_less_by_marginal_bands(
    book: Book, sizes: tuple[float, float]
) -> None:
    by_parts = replace(book, banding=Banding.MARGINAL)
    small, large = (price_of(work(_lawn(size)), by_parts).visits[0].price for size in sorted(sizes))

    assert small <= large


def _lawn(thousands: float) -> Any:
    """A lawn whose time and product follow its area, as a plan's do."""
    share = thousands / 8
    return visit(
        area_m2=thousands * 1000 * SQ_FT_M2,
        passes_s=15 * 60 * share,
        products=(replace(PRODUCT, amount=Quantity(12 * share, "fl oz"), off=None),),
        off_m2=0.0,
    )


@given(work=works, book=books)
def test_below_cost_is_told_exactly_where_the_cost_is_more_than_the_price(
    work: Any, book: Book
) -> None:
    price = price_of(work, book)

    assert ("below_cost" in codes(price)) is (price.cost > price.price)
