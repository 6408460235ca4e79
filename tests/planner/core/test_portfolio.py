"""Many lots on one quote: shares of common areas, and every cent accounted for."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.portfolio import Asked, Sharing, share_commons
from properties.core.errors import Refused

D = Decimal


def _lot(
    net: str = "60.00", *, area: str = "500", share: str | None = None, tax: str = "0.00"
) -> Asked:
    return Asked("Lot", D(net), D(tax), D(area), None if share is None else D(share))


def _paid(lots: list[Asked], common: str, sharing: Sharing) -> list[Decimal]:
    commons = [Asked("Green", D(common), D("0.00"), D(4000))]
    shared = share_commons(lots, commons, sharing=sharing, currency="USD")
    return [lot.common_net for lot in shared.lots]


def test_equal_parts_give_the_odd_cent_to_the_first() -> None:
    assert _paid([_lot()] * 3, "100.00", Sharing.EQUAL) == [D("33.34"), D("33.33"), D("33.33")]


# Balinski and Young, Fair Representation (1982), chapter 2: Hamilton's method for the 1791
# House of 120 seats gave Virginia 21 and Delaware 2 (populations of the 1790 census).
CENSUS_1790 = {
    "Virginia": (630_560, 21),
    "Massachusetts": (475_327, 16),
    "Pennsylvania": (432_879, 14),
    "North Carolina": (353_523, 12),
    "New York": (331_589, 11),
    "Maryland": (278_514, 9),
    "Connecticut": (236_841, 8),
    "South Carolina": (206_236, 7),
    "New Jersey": (179_570, 6),
    "New Hampshire": (141_822, 5),
    "Vermont": (85_533, 3),
    "Georgia": (70_835, 2),
    "Kentucky": (68_705, 2),
    "Rhode Island": (68_446, 2),
    "Delaware": (55_540, 2),
}


def test_shares_by_area_are_those_of_the_largest_remainder() -> None:
    lots = [_lot(area=str(people)) for people, _ in CENSUS_1790.values()]

    seats = [int(100 * share) for share in _paid(lots, "1.20", Sharing.AREA)]

    assert seats == [seats for _, seats in CENSUS_1790.values()]


def test_given_shares_are_kept_and_a_share_of_nothing_pays_nothing() -> None:
    lots = [_lot(share="2"), _lot(share="1"), _lot(share="0")]

    assert _paid(lots, "90.00", Sharing.GIVEN) == [D("60.00"), D("30.00"), D("0.00")]


def test_a_lot_without_a_given_share_is_named() -> None:
    with pytest.raises(Refused, match="Lot has no share"):
        _paid([_lot(share="1"), _lot()], "90.00", Sharing.GIVEN)


def test_without_a_lot_nobody_pays() -> None:
    with pytest.raises(Refused, match="no lot to pay"):
        _paid([], "90.00", Sharing.EQUAL)


def test_lots_without_common_areas_pay_their_own_price() -> None:
    shared = share_commons([_lot("61.00", tax="3.66")], [], sharing=Sharing.EQUAL, currency="USD")

    assert (shared.net, shared.tax, shared.total) == (D("61.00"), D("3.66"), D("64.66"))
    (figure,) = shared.lots[0].figures
    assert figure.result.value == D("61.00")


def test_the_working_of_a_share_names_the_weights() -> None:
    commons = [Asked("Green", D("90.00"), D("5.40"), D(1))]

    shared = share_commons([_lot()] * 3, commons, sharing=Sharing.EQUAL, currency="USD")

    share, net = shared.lots[1].figures
    assert share.key == "lots[1].commons[0]"
    assert [told.value for told in share.inputs] == [D("90.00"), D(1), D(3)]
    assert share.result.value == D("30.00")
    assert net.result.value == shared.lots[1].net == D("90.00")


amounts = st.integers(0, 10_000_000).map(lambda cents: D(cents) / 100)
asked = st.builds(
    Asked,
    name=st.just("Lot"),
    net=amounts,
    tax=amounts,
    area=st.integers(1, 10**7).map(lambda hundredths: D(hundredths) / 100),
    share=st.integers(1, 1000).map(D),
)


@given(
    lots=st.lists(asked, min_size=1, max_size=30),
    commons=st.lists(asked, max_size=3),
    sharing=st.sampled_from(Sharing),
)
def test_the_lots_together_pay_the_whole_to_the_cent(
    lots: list[Asked], commons: list[Asked], sharing: Sharing
) -> None:
    shared = share_commons(lots, commons, sharing=sharing, currency="USD")

    assert shared.net == sum(one.net for one in [*lots, *commons])
    assert shared.tax == sum(one.tax for one in [*lots, *commons])
    assert shared.total == shared.net + shared.tax == sum(lot.total for lot in shared.lots)
    assert all(lot.net >= lot.lot.net and lot.tax >= lot.lot.tax for lot in shared.lots)
