"""Common ground is shared out to the last cent, and nobody bears what nobody agreed."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.pricing.common import Lot, SharedBy, common_shares
from properties.core.errors import FaultsFound, Refused
from tests.planner.core.pricing.test_workings_of_prices import by_hand

LOTS = [
    Lot("Lot 1", area_m2=400.0, share=Decimal(2)),
    Lot("Lot 2", area_m2=300.0, share=Decimal(1)),
    Lot("Lot 3", area_m2=300.0, share=Decimal(0)),
]


# By hand: 100.00 in thirds, by 4 : 3 : 3, and by 2 : 1 : 0.
@pytest.mark.parametrize(
    ("by", "expected"),
    [
        (SharedBy.EQUAL, ["33.34", "33.33", "33.33"]),
        (SharedBy.AREA, ["40.00", "30.00", "30.00"]),
        (SharedBy.SHARES, ["66.67", "33.33", "0.00"]),
    ],
)
def test_common_ground_is_shared_as_agreed(by: SharedBy, expected: list[str]) -> None:
    lines = common_shares(Decimal("100.00"), LOTS, by=by, currency="USD")

    assert [str(each.amount) for each in lines] == expected
    assert [each.name for each in lines] == ["Lot 1", "Lot 2", "Lot 3"]


@given(
    cents=st.integers(0, 10_000_000),
    areas=st.lists(st.floats(1, 50_000), min_size=1, max_size=25),
    by=st.sampled_from([SharedBy.EQUAL, SharedBy.AREA]),
)
def test_the_shares_are_all_of_it_and_each_as_its_working_says(
    cents: int, areas: list[float], by: SharedBy
) -> None:
    total = Decimal(cents) / 100
    lots = [Lot(f"Lot {n}", area_m2=area) for n, area in enumerate(areas)]

    lines = common_shares(total, lots, by=by, currency="USD")

    assert sum(each.amount for each in lines) == total
    for each in lines:
        entry = {
            "formula": each.figure.formula,
            "inputs": [{"name": t.name, "value": f"{t.value:f}"} for t in each.figure.inputs],
        }
        # A share may have got one of the cents that were left.
        assert abs(by_hand(entry) - each.amount) < Decimal("0.01") + Decimal("1e-20")


def test_a_lot_without_its_part_is_told_and_not_left_out() -> None:
    lots = [*LOTS, Lot("Lot 4"), Lot("Lot 5")]

    for by, field in ((SharedBy.AREA, "area"), (SharedBy.SHARES, "share")):
        with pytest.raises(FaultsFound) as found:
            common_shares(Decimal("100.00"), lots, by=by, currency="USD")
        assert [fault.field for fault in found.value.faults] == [
            f"lots[3].{field}",
            f"lots[4].{field}",
        ]


def test_without_a_lot_nobody_bears_it() -> None:
    with pytest.raises(Refused, match="Nobody"):
        common_shares(Decimal("100.00"), [], by=SharedBy.EQUAL, currency="USD")
