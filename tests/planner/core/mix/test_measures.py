"""Rounding to what a measure shows, without leaving the label."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from planner.core.label.labels import Form, Limits
from planner.core.mix.measures import (
    USUAL_MEASURES,
    Measured,
    Span,
    extent_needed,
    finer_mark,
    span_of,
    to_measure,
)
from planner.core.shown import Units
from properties.core.units import Quantity, parse_quantity

JUG, CUP = Quantity(1.0, "fl oz"), Quantity(0.1, "fl oz")

rates = st.floats(min_value=0.1, max_value=10)
extents = st.floats(min_value=0.05, max_value=1000)
marks = st.sampled_from([0.05, 0.1, 0.25, 0.5, 1.0, 2.0]).map(
    lambda value: Quantity(value, "fl oz")
)


def per_ksqft(text: str) -> Quantity:
    return parse_quantity(f"{text}/1000 sq ft")


def sq_ft(area: float) -> float:
    return Quantity(area, "sq ft").si


# Worked by hand from the rule: area in sq ft, rate and range in fl oz or oz wt per 1,000 sq ft.
# 12.647 fl oz lies between 12 (1.139) and 13 (1.2335, nearer). 0.926 fl oz: the jug's 1 would be
# 1.295, above 1.25; the cup's 0.9 is 1.166. 1.581 oz wt lies between 1.55 and 1.60 (nearer);
# 0.116 oz wt between 0.10 (0.1295, nearer) and 0.15 (0.194, above 0.18).
WORKED = [
    pytest.param(10538.9, "1.2 fl oz", ("1.00 fl oz", "1.25 fl oz"), 13.0, id="boom, jug"),
    pytest.param(772.03, "1.2 fl oz", ("1.00 fl oz", "1.25 fl oz"), 0.9, id="hand gun, cup"),
    pytest.param(10538.9, "0.15 oz wt", ("0.12 oz wt", "0.18 oz wt"), 1.6, id="boom, scale"),
    pytest.param(772.03, "0.15 oz wt", ("0.12 oz wt", "0.18 oz wt"), 0.1, id="hand gun, scale"),
]


@pytest.mark.parametrize(("area", "rate", "limits", "expected"), WORKED)
def test_the_mark_worked_by_hand_is_chosen(
    area: float, rate: str, limits: tuple[str, str], expected: float
) -> None:
    asked = per_ksqft(rate)
    form = Form.DRY if "wt" in rate else Form.LIQUID

    measured = to_measure(
        rate=asked.si,
        extent=sq_ft(area),
        span=span_of(asked.si, Limits(*map(per_ksqft, limits))),
        marks=USUAL_MEASURES[Units.US].for_form(form),
    )

    assert measured is not None
    assert measured.quantity.value == expected


def test_a_jug_that_would_leave_the_label_is_not_used() -> None:
    span = Span(per_ksqft("1.00 fl oz").si, per_ksqft("1.25 fl oz").si)

    assert (
        to_measure(rate=per_ksqft("1.2 fl oz").si, extent=sq_ft(772.03), span=span, marks=[JUG])
        is None
    )


def test_the_lower_of_two_marks_that_are_equally_near_is_taken() -> None:
    # 25,000 sq ft at 1.5 fl oz/1,000 sq ft: 37.5 fl oz, half way between two marks.
    measured = to_measure(
        rate=per_ksqft("1.5 fl oz").si,
        extent=sq_ft(25000),
        span=Span(per_ksqft("1.0 fl oz").si, per_ksqft("2.0 fl oz").si),
        marks=[JUG],
    )

    assert measured == Measured(37, JUG)


def test_a_coarse_measure_that_is_far_off_gives_way_to_a_finer_one() -> None:
    # 2,989 sq ft at 0.8 fl oz/1,000 sq ft is 2.39 fl oz. The jug's 2 would be 16 % short, though
    # inside the label; the cup's 2.4 is near. Alone on the truck, the jug's 2 must do.
    asked = per_ksqft("0.8 fl oz").si
    span = Span(per_ksqft("0.65 fl oz").si, per_ksqft("1.0 fl oz").si)
    extent = sq_ft(2989)

    with_cup = to_measure(rate=asked, extent=extent, span=span, marks=[JUG, CUP])
    alone = to_measure(rate=asked, extent=extent, span=span, marks=[JUG])

    assert (with_cup, alone) == (Measured(24, CUP), Measured(2, JUG))


def test_an_amount_on_a_mark_stays_there() -> None:
    # 30,000 sq ft at 0.3 fl oz/1,000 sq ft is 9 fl oz; the label allows that rate and no other.
    rate = per_ksqft("0.3 fl oz").si

    assert to_measure(
        rate=rate, extent=sq_ft(30000), span=Span(rate, rate), marks=[JUG]
    ) == Measured(9, JUG)


@pytest.mark.parametrize(
    ("area", "expected"),
    [
        pytest.param(19900, Measured(19, JUG), id="19.9 fl oz: down to 19, 4.5 % short"),
        pytest.param(9900, Measured(99, CUP), id="9.9 fl oz: 9 is 9 % short, so the cup"),
        pytest.param(190, None, id="0.19 fl oz: 0.1 is 47 % short"),
    ],
)
def test_without_a_label_an_amount_is_rounded_down_and_hardly(
    area: float, expected: Measured | None
) -> None:
    rate = per_ksqft("1 fl oz").si

    measured = to_measure(
        rate=rate, extent=sq_ft(area), span=span_of(rate, Limits()), marks=[JUG, CUP]
    )

    assert measured == expected


def test_marks_add_up_without_the_last_digits_of_a_float() -> None:
    assert Measured(3, CUP).quantity.value == 0.3
    assert Measured(3, CUP).shown_in("fl oz").value == 0.3
    # NIST Handbook 44, Appendix C: 1 fl oz = 29.5735295625 mL.
    assert Measured(3, CUP).shown_in("mL").value == pytest.approx(0.3 * 29.5735295625, rel=1e-12)


@given(rate=rates, extent=extents, mark=marks, below=st.floats(0, 1), above=st.floats(0, 1))
def test_no_measured_amount_ever_leaves_the_label(
    rate: float, extent: float, mark: Quantity, below: float, above: float
) -> None:
    span = Span(rate * (1 - below), rate * (1 + above))

    measured = to_measure(rate=rate, extent=extent, span=span, marks=[mark])

    assume(measured is not None)
    assert measured is not None
    assert span.lowest * (1 - 1e-9) <= measured.si / extent <= span.highest * (1 + 1e-9)
    assert abs(measured.si - rate * extent) <= mark.si * (1 + 1e-6)
    assert measured.marks > 0


@given(rate=rates, extent=extents, mark=marks)
def test_without_a_label_no_amount_is_ever_rounded_up(
    rate: float, extent: float, mark: Quantity
) -> None:
    measured = to_measure(rate=rate, extent=extent, span=span_of(rate, Limits()), marks=[mark])

    assert measured is None or measured.si <= rate * extent * (1 + 1e-9)


@given(rate=rates, extent=extents, mark=marks, width=st.floats(0.01, 1))
def test_the_finer_mark_that_is_advised_would_do(
    rate: float, extent: float, mark: Quantity, width: float
) -> None:
    span = Span(rate * (1 - width / 2), rate * (1 + width / 2))

    finer = finer_mark(rate=rate, extent=extent, span=span, than=mark)

    assume(finer is not None)
    assert finer is not None
    assert finer.value < mark.value
    assert to_measure(rate=rate, extent=extent, span=span, marks=[finer]) is not None


@given(rate=rates, mark=marks, width=st.floats(0.01, 1), more=st.floats(1, 10))
def test_a_load_as_large_as_advised_can_be_measured_out(
    rate: float, mark: Quantity, width: float, more: float
) -> None:
    span = Span(rate * (1 - width), rate)

    extent = extent_needed(span=span, mark=mark)

    assert extent is not None
    # A hair more than needed, for the rounding of the machine.
    assert (
        to_measure(rate=rate, extent=extent * more * (1 + 1e-9), span=span, marks=[mark])
        is not None
    )


def test_a_label_with_a_single_rate_leaves_no_room_to_round_in() -> None:
    rate = per_ksqft("1.13 fl oz").si
    span = Span(rate, rate)

    assert extent_needed(span=span, mark=JUG) is None
    assert finer_mark(rate=rate, extent=sq_ft(777), span=span, than=CUP) is None


def test_nothing_is_never_an_amount_to_measure() -> None:
    # 0.4 fl oz, where a label allows anything up to 0.5: the jug shows 0 or 1.
    measured = to_measure(
        rate=per_ksqft("0.4 fl oz").si,
        extent=sq_ft(1000),
        span=Span(0, per_ksqft("0.5 fl oz").si),
        marks=[JUG],
    )

    assert measured is None
