"""The buying list: never short of the upper need, cheapest in whole containers."""

import itertools
import math
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.label.labels import Form
from planner.core.shown import Units
from planner.core.stock.buying import BuyingList, Period, buying_list
from planner.core.stock.covering import (
    MOST_CONTAINERS,
    Offer,
    containers_for,
    cost_of,
    size_of,
)
from planner.core.stock.figures import short_figure
from planner.core.stock.lots import LotInStock, taken_from
from planner.core.stock.needs import Need, total_of
from properties.core.errors import Refused
from tests.planner.core.stock.seasons import job, jobs, lot, lots, millilitres, offer, offers

JUG, QUART = offer(1, 10.0, "180.00", lead=14), offer(2, 1.0, "24.00", lead=3)


def _counts(need: float, *sizes: Offer) -> dict[int, int]:
    return {each.offer.key: each.count for each in containers_for(need, sizes)}


@pytest.mark.parametrize(
    ("need", "counts"),
    [
        (0.0, {}),
        (1.0, {2: 1}),
        # Seven small ones are 168.00, eight are 192.00 and a jug is 180.00.
        (7.0, {2: 7}),
        (7.1, {1: 1}),
        (12.5, {1: 1, 2: 3}),
        (20.0, {1: 2}),
    ],
)
def test_the_cheapest_set_of_containers_is_bought(need: float, counts: dict[int, int]) -> None:
    assert _counts(need, JUG, QUART) == counts


def test_of_equally_cheap_sets_the_one_that_holds_most_is_bought() -> None:
    assert _counts(1.5, offer(1, 4.0, "20.00"), offer(2, 1.0, "10.00")) == {1: 1}


def test_without_a_price_the_fewest_containers_are_bought_the_last_as_small_as_will_do() -> None:
    sizes = (offer(1, 10.0), offer(2, 1.0, "24.00"), offer(3, 4.0))

    assert _counts(21.0, *sizes) == {1: 2, 2: 1}
    assert _counts(23.0, *sizes) == {1: 2, 3: 1}
    assert _counts(28.0, *sizes) == {1: 3}
    assert cost_of(containers_for(23.0, sizes)) is None


def test_a_mistyped_size_does_not_order_a_lorry() -> None:
    with pytest.raises(Refused, match="More than 1,000 containers"):
        containers_for(MOST_CONTAINERS * 0.001 + 1, [offer(1, 0.001, "0.10")])
    with pytest.raises(Refused, match="No container of it is known"):
        containers_for(1.0, [])


def _cheapest_by_trying(need: float, sizes: list[Offer]) -> Decimal:
    most = [math.ceil(need / each.size) for each in sizes]
    return min(
        sum(
            ((each.price or Decimal(0)) * n for each, n in zip(sizes, counts, strict=True)),
            Decimal(0),
        )
        for counts in itertools.product(*(range(count + 1) for count in most))
        if sum(each.size * n for each, n in zip(sizes, counts, strict=True)) >= need * (1 - 1e-9)
    )


@given(need=millilitres.map(lambda litres: litres / 5), sizes=offers)
def test_no_other_set_of_containers_is_cheaper(need: float, sizes: list[Offer]) -> None:
    bought = containers_for(need, sizes)

    assert size_of(bought) >= need * (1 - 1e-9)
    assert cost_of(bought) == _cheapest_by_trying(need, sizes)


@given(need=millilitres, sizes=offers)
def test_without_prices_one_container_less_would_never_do(need: float, sizes: list[Offer]) -> None:
    nameless = [Offer(each.key, each.size) for each in sizes]

    bought = containers_for(need, nameless)

    assert size_of(bought) >= need * (1 - 1e-9)
    largest = max(each.size for each in sizes)
    assert (sum(each.count for each in bought) - 1) * largest < need


def _list(needs: list[Need], *on_hand: LotInStock, by: Period = Period.MONTH) -> BuyingList:
    return buying_list(needs, lots=on_hand, offers=[JUG, QUART], period=by)


def test_a_season_is_bought_month_by_month() -> None:
    told = _list([job(4, 6.0), job(35, 6.0), job(40, 3.0)], lot(1, 8.0))

    may, june = told.lines
    assert (may.first_day, may.short, may.buy) == (date(2026, 5, 1), 0.0, ())
    # June needs 9 and 2 are left: 7 small ones, 168.00, by three days before the fifth.
    assert june.short == pytest.approx(7.0)
    assert june.first_short_on == date(2026, 6, 5)
    assert june.order_by == date(2026, 6, 2)
    assert june.cost == Decimal("168.00")
    assert june.left_over == pytest.approx(0.0)


def test_what_is_left_of_a_purchase_is_used_before_more_is_bought() -> None:
    told = _list([job(4, 7.5), job(35, 2.0)])

    may, june = told.lines
    assert [(each.offer, each.count) for each in may.buy] == [(JUG, 1)]
    assert may.left_over == pytest.approx(2.5)
    assert (june.short, june.buy) == (0.0, ())
    assert june.left_over == pytest.approx(0.5)


def test_one_order_for_all_may_cost_less() -> None:
    told = _list([job(4, 5.0), job(35, 5.0)])

    # Five and five small ones are 240.00, one jug is 180.00.
    assert told.cost == Decimal("240.00")
    assert told.saved_at_once == Decimal("60.00")


def test_weeks_begin_on_monday() -> None:
    told = _list([job(2, 1.0), job(3, 1.0)], by=Period.WEEK)

    # May 3, 2026 is a Sunday.
    assert [line.first_day for line in told.lines] == [date(2026, 4, 27), date(2026, 5, 4)]


def test_the_upper_end_is_bought_and_not_the_middle() -> None:
    told = _list([job(4, 5.0, share=0.25)])

    assert told.lines[0].short == pytest.approx(5.0 + 1.96 * 1.25, rel=1e-3)
    assert told.lines[0].planned.amount == 5.0


def test_a_lot_that_expires_before_the_job_does_not_count() -> None:
    told = _list([job(10, 2.0), job(60, 2.0)], lot(1, 4.0, date(2026, 6, 1)))

    assert [line.short for line in told.lines] == [0.0, 2.0]
    assert [(each.lot.shelf.lot, each.amount) for each in told.expiring] == [(1, 2.0)]


def test_what_a_shelf_is_below_zero_was_loaded_from_the_others() -> None:
    told = _list([job(4, 3.0)], lot(1, -1.5), lot(2, 4.0))

    assert told.lines[0].short == pytest.approx(0.5)


def test_a_product_without_a_container_is_short_and_says_so() -> None:
    told = buying_list([job(4, 3.0)], lots=[lot(1, 1.0)], offers=[], period=Period.MONTH)

    assert told.uncovered == pytest.approx(2.0)
    assert (told.lines[0].buy, told.at_once, told.lines[0].order_by) == ((), (), None)


def test_a_lead_time_that_nobody_told_gives_no_day() -> None:
    slow = offer(3, 10.0)

    told = buying_list([job(4, 3.0)], lots=[], offers=[slow], period=Period.MONTH)

    assert told.lines[0].order_by is None
    assert told.cost is None
    assert told.saved_at_once is None


def test_no_job_buys_nothing() -> None:
    told = _list([], lot(1, 4.0, date(2026, 5, 2)), lot(2, -1.0))

    assert (told.lines, told.expiring) == ((), ())
    assert told.cost == 0


@given(needs=jobs, on_hand=lots, sizes=offers, by=st.sampled_from(Period))
def test_a_season_at_the_upper_need_never_comes_back_to_an_empty_shelf(
    needs: list[Need], on_hand: list[LotInStock], sizes: list[Offer], by: Period
) -> None:
    told = buying_list(needs, lots=on_hand, offers=sizes, period=by)

    arriving = {line.first_day: size_of(line.buy) for line in told.lines}
    shelf, bought, reached = on_hand, 0.0, 0.0
    for day in sorted({need.on for need in needs}):
        bought += arriving.pop(by.first_day(day), 0.0)
        highest = total_of([need for need in needs if need.on <= day]).highest
        taken = taken_from(shelf, highest - reached, on=day)
        reached, bought = highest, bought - taken.beyond
        used = {take.shelf: take.amount for take in taken.takes}
        shelf = [replace(each, amount=each.amount - used.get(each.shelf, 0.0)) for each in shelf]
        assert bought >= -1e-6


@given(needs=jobs, on_hand=lots, sizes=offers)
def test_what_a_line_is_short_of_can_be_reckoned_by_hand(
    needs: list[Need], on_hand: list[LotInStock], sizes: list[Offer]
) -> None:
    told = buying_list(needs, lots=on_hand, offers=sizes, period=Period.MONTH)

    for line in told.lines:
        figure = short_figure(line, form=Form.LIQUID, units=Units.METRIC)
        more, stock, bought = (each.quantity.value for each in figure.inputs)
        assert figure.result.value == pytest.approx(more - stock - bought, abs=1e-6)


@given(needs=jobs, on_hand=lots, sizes=offers)
def test_the_lines_are_all_jobs_once(
    needs: list[Need], on_hand: list[LotInStock], sizes: list[Offer]
) -> None:
    told = buying_list(needs, lots=on_hand, offers=sizes, period=Period.MONTH)

    assert sum(line.planned.jobs for line in told.lines) == len(needs)
    assert told.total.amount == pytest.approx(sum(need.amount for need in needs))
    assert told.cost == sum((line.cost or Decimal(0) for line in told.lines), Decimal(0))
