"""What past applications have left on each part of a property."""

from datetime import date, timedelta

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.ledger import Application, Ledger, ledger

SPRING = date(2026, 4, 10)
LAWN = box(0, 0, 30, 20)
WEST, EAST = box(0, 0, 10, 20), box(10, 0, 30, 20)


def applied(ref: str, ground: BaseGeometry, day: int = 0, **amounts: float) -> Application:
    return Application(ref, SPRING + timedelta(days=day), ground, amounts or {"w": 1.2})


def said(book: Ledger) -> dict[tuple[str, ...], float]:
    return {cell.refs: cell.area_m2 for cell in book.cells}


# The annual limit lives in a place: front 6,200 sq ft, back 9,650 sq ft, a patch of 500 sq ft
# inside the back. Worked by hand, areas in sq ft and amounts in fl oz per 1,000 sq ft.
FT = 0.3048
FRONT, BACK, PATCH = (
    box(0, 0, 100 * FT, 62 * FT),
    box(0, 62 * FT, 100 * FT, 158.5 * FT),
    box(20 * FT, 80 * FT, 40 * FT, 105 * FT),
)
SEASON = [
    applied("April 10", shapely.union(FRONT, BACK)),
    applied("May 20", FRONT, day=40),
    applied("June 8", PATCH, day=59),
]


def test_front_back_and_patch_have_had_their_own_sums() -> None:
    book = ledger(shapely.union(FRONT, BACK), SEASON)

    assert {cell.refs: cell.sums["w"] for cell in book.cells} == {
        ("April 10",): 1.2,
        ("April 10", "May 20"): 2.4,
        ("April 10", "June 8"): 2.4,
    }
    assert [round(cell.area_m2 / FT**2, 6) for cell in book.cells] == [9150, 6200, 500]


def test_a_spot_says_what_it_received_and_when() -> None:
    book = ledger(shapely.union(FRONT, BACK), SEASON)

    in_patch = book.received_at(Point(30 * FT, 90 * FT))

    assert [(entry.ref, entry.applied_on) for entry in in_patch] == [
        ("April 10", date(2026, 4, 10)),
        ("June 8", date(2026, 6, 8)),
    ]
    assert [entry.ref for entry in book.received_at(Point(1, 1))] == ["April 10", "May 20"]
    assert book.received_at(Point(-5, -5)) == ()


def test_sums_in_a_part_are_cut_to_the_part() -> None:
    book = ledger(shapely.union(FRONT, BACK), SEASON)

    cells = book.sums_in(box(30 * FT, 70 * FT, 300 * FT, 100 * FT))

    assert [(cell.refs, round(cell.area_m2 / FT**2, 6)) for cell in cells] == [
        (("April 10",), 1900),
        (("April 10", "June 8"), 200),
    ]


def test_a_part_drawn_a_centimetre_over_an_edge_does_not_reach_the_next_cell() -> None:
    book = ledger(LAWN, [applied("west", WEST)])

    (cell,) = book.sums_in(box(0, 0, 10.01, 20))

    assert cell.refs == ("west",)
    assert cell.area_m2 == pytest.approx(200.2, abs=1e-9)


def test_a_hundred_redrawings_are_still_two_cells() -> None:
    drawn = np.random.default_rng(7)
    corners = np.array([(25 + 9 * np.cos(a), 10 + 6 * np.sin(a)) for a in np.arange(0, 6.2, 0.4)])
    season = [
        applied(f"{day:03}", Polygon(corners + drawn.uniform(-0.005, 0.005, corners.shape)), day)
        for day in range(100)
    ]

    book = ledger(box(0, 0, 50, 20), season)

    assert [len(cell.refs) for cell in book.cells] == [0, 100]
    assert book.cells[1].sums["w"] == pytest.approx(120)


def test_a_gap_of_a_centimetre_counts_with_the_side_that_received_more() -> None:
    book = ledger(
        LAWN,
        [applied("west", WEST, w=2.0), applied("east", box(10.01, 0, 30, 20), w=1.0)],
    )

    assert said(book) == {
        ("east",): pytest.approx(399.8, abs=1e-9),
        ("west",): pytest.approx(200.2, abs=1e-9),
    }
    assert [entry.ref for entry in book.received_at(Point(10.005, 10))] == ["west"]


def test_an_overlap_of_a_centimetre_is_kept_as_the_highest_not_as_the_sum() -> None:
    book = ledger(
        LAWN, [applied("west", box(0, 0, 10.01, 20), w=2.0), applied("east", EAST, w=1.0)]
    )

    assert [(cell.refs, cell.sums, cell.highest) for cell in book.cells] == [
        (("east",), {"w": 1.0}, {"w": 1.0}),
        (("west",), {"w": 2.0}, {"w": 3.0}),
    ]
    assert {entry.ref for entry in book.received_at(Point(10.005, 10))} == {"west", "east"}


def test_an_overlap_by_rounding_does_not_raise_the_highest() -> None:
    book = ledger(LAWN, [applied("west", box(0, 0, 10 + 1e-10, 20)), applied("east", EAST)])

    assert [cell.highest for cell in book.cells] == [{"w": 1.2}, {"w": 1.2}]


def test_sums_of_several_keys_are_weighed_by_the_share_of_their_largest() -> None:
    season = [
        applied("west", WEST, w=1.0, n=9.0),
        applied("east", box(10.01, 0, 30, 20), w=1.5, n=1.0),
        applied("water", WEST, water=0.0),
    ]

    book = ledger(LAWN, season)

    # West 1/1.5 + 9/9, east 1.5/1.5 + 1/9: the gap is the west's.
    assert said(book)["water", "west"] == pytest.approx(200.2, abs=1e-9)


def test_a_strip_as_wide_as_the_limit_is_ground_of_its_own() -> None:
    def cells(width_m: float) -> int:
        return len(ledger(LAWN, [applied("strip", box(5, 0, 5 + width_m, 20))]).cells)

    assert (cells(0.0199), cells(0.0201)) == (1, 2)


def test_a_spot_smaller_than_the_limit_is_no_cell_but_is_found_by_place() -> None:
    book = ledger(LAWN, [applied("spot", box(5, 5, 5.2, 5.2))])

    assert [(cell.refs, cell.highest) for cell in book.cells] == [((), {"w": 1.2})]
    assert [entry.ref for entry in book.received_at(Point(5.1, 5.1))] == ["spot"]
    assert len(ledger(LAWN, [applied("spot", box(5, 5, 5.3, 5.3))]).cells) == 2


def test_slivers_side_by_side_join_the_ground_beside_them_not_that_at_their_ends() -> None:
    # Three gaps of 9 mm between west and east, and a treated strip across all their north ends.
    edges = [10, 10.009, 10.018, 10.027]
    season = [
        applied("west", WEST, w=1.0),
        applied("east", box(10.027, 0, 30, 20), w=1.0),
        *(
            applied(f"sliver {index}", box(edges[index], 0, edges[index + 1], 20), w=0.1 * index)
            for index in range(3)
        ),
        applied("north", box(0, 18, 30, 20), w=50.0),
    ]

    book = ledger(LAWN, season)

    assert sum(area for refs, area in said(book).items() if "north" in refs) == pytest.approx(60)
    assert len(book.cells) == 4


def test_slivers_that_meet_ground_only_at_their_ends_still_join_it() -> None:
    tail = shapely.union(LAWN, box(30, 10, 40, 10.018))
    season = [applied("lawn", LAWN), applied("half of the tail", box(30, 10, 40, 10.009))]

    book = ledger(tail, season)

    assert said(book) == {("lawn",): pytest.approx(600.18, abs=1e-9)}


def test_turf_that_is_a_sliver_itself_keeps_what_it_received() -> None:
    turf = MultiPolygon([LAWN, box(40, 0, 40.01, 10)])

    book = ledger(turf, [applied("lawn", LAWN), applied("hem", box(39, 0, 41, 10))])

    assert said(book) == {("hem",): pytest.approx(0.1), ("lawn",): 600}


def test_turf_without_applications_is_one_empty_cell() -> None:
    (cell,) = ledger(LAWN, []).cells

    assert (cell.refs, cell.sums, cell.area_m2) == ((), {}, 600)


def test_no_turf_has_no_cells() -> None:
    book = ledger(MultiPolygon(), [applied("west", WEST)])

    assert book.cells == ()
    assert book.sums_in(LAWN) == ()


def test_ground_beyond_the_turf_is_left_out_of_the_cells() -> None:
    book = ledger(WEST, [applied("far", box(100, 100, 120, 120)), applied("all", LAWN, day=1)])

    assert said(book) == {("all",): 200}


BOW_TIE = Polygon([(0, 0), (10, 10), (10, 0), (0, 10)])


@pytest.mark.parametrize(
    ("season", "field"),
    [
        ([applied("a", WEST), applied("a", EAST)], "applications[1].ref"),
        ([applied("a", WEST, w=-0.1)], "applications[0].amounts"),
        ([applied("a", WEST, w=float("nan"))], "applications[0].amounts"),
        ([applied("a", WEST, w=float("inf"))], "applications[0].amounts"),
        ([applied("a", WEST), applied("b", BOW_TIE)], "applications[1].geometry"),
        ([applied("a", Point(1, 1))], "applications[0].geometry"),
        ([applied("a", MultiPolygon())], "applications[0].geometry"),
    ],
)
def test_a_faulty_application_is_refused_by_its_place(
    season: list[Application], field: str
) -> None:
    with pytest.raises(Refused) as refused:
        ledger(LAWN, season)

    assert refused.value.field == field


def test_turf_or_a_part_that_crosses_itself_is_refused() -> None:
    with pytest.raises(Refused, match="crosses itself") as refused:
        ledger(BOW_TIE, [])
    assert refused.value.field == "turf"

    with pytest.raises(Refused) as refused:
        ledger(LAWN, []).sums_in(BOW_TIE)
    assert refused.value.field == "part"
