"""Every way of measuring an output, against what is in print and against each other."""

import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.calibration import (
    HandGunCourse,
    MeasuredCourse,
    SmallPlot,
    TimedCatch,
    TimedCourse,
    TimedPasses,
    WayOfMeasuring,
    boom_output_l_per_m2,
    course_length_m,
    ground_speed_m_per_s,
    output_of,
)
from planner.core.calibration.nozzles import nozzles_of
from properties.core.errors import Refused
from properties.core.units import Quantity, parse_quantity, quantity_of_si
from tests.planner.core.published import rows_of

FOOT_M = 0.3048
readings = st.floats(min_value=0.5, max_value=600)
shares = st.floats(min_value=0.97, max_value=1.03)  # so that no run is a fluke


def seconds(*times: float) -> tuple[Quantity, ...]:
    return tuple(Quantity(time, "s") for time in times)


def ounces(*volumes: float) -> tuple[Quantity, ...]:
    return tuple(Quantity(volume, "fl oz") for volume in volumes)


@pytest.mark.parametrize("row", rows_of("course_lengths.csv"), ids=lambda row: row["case"])
def test_a_published_course_has_the_published_length(row: dict[str, str]) -> None:
    length_m = course_length_m(
        area_m2=parse_quantity(row["area"]).si, swath_m=parse_quantity(row["swath"]).si
    )

    published = parse_quantity(row["course"])
    shown = quantity_of_si(length_m, published.unit).value
    assert shown == pytest.approx(published.value, abs=float(row["tolerance"]))


@pytest.mark.parametrize("row", rows_of("timed_passes.csv"), ids=lambda row: row["case"])
def test_a_published_plot_gives_the_published_output(row: dict[str, str]) -> None:
    times = [float(time) for time in row["times"].split()]
    sides = parse_quantity(row["length"]), parse_quantity(row["width"])
    passes = TimedPasses(seconds(*times), (parse_quantity(row["catch"]),))
    published = parse_quantity(row["output"])

    plot = output_of(SmallPlot(sides, passes), swath_m=1.0)
    course = output_of(HandGunCourse(sides[0], passes), swath_m=sides[1].si)

    assert statistics.fmean(run.read for run in plot.kept) == pytest.approx(float(row["mean_time"]))
    for output in (plot, course):
        shown = quantity_of_si(output.l_per_m2, published.unit).value
        assert shown == pytest.approx(published.value, abs=float(row["tolerance"]))


def test_the_ounces_of_a_plot_are_its_own_and_not_those_of_the_rule_of_thumb() -> None:
    passes = TimedPasses(seconds(20, 20, 20), ounces(31))
    sides = Quantity(18.5, "ft"), Quantity(18.5, "ft")

    by_sides = output_of(SmallPlot(sides, passes), swath_m=1.0)
    by_area = output_of(SmallPlot(Quantity(340.3125, "sq ft"), passes), swath_m=1.0)

    # 31 / 128 gal over 342.25 sq ft: 30.825 gal/acre; over 1/128 acre exactly the ounces.
    assert quantity_of_si(by_sides.l_per_m2, "gal/acre").value == pytest.approx(30.8245, abs=5e-5)
    assert quantity_of_si(by_area.l_per_m2, "gal/acre").value == pytest.approx(31, rel=1e-12)


@pytest.mark.parametrize("row", rows_of("boom_catches.csv"), ids=lambda row: row["case"])
def test_a_published_boom_gives_the_published_output(row: dict[str, str]) -> None:
    published = parse_quantity(row["output"])
    catch = TimedCatch(
        parse_quantity(row["spacing"]),
        parse_quantity(row["catch_time"]),
        (parse_quantity(row["catch"]),),
        parse_quantity(row["speed"]),
    )

    output = output_of(catch, swath_m=3.0)

    shown = quantity_of_si(output.l_per_m2, published.unit).value
    assert shown == pytest.approx(published.value, abs=float(row["tolerance"]))
    assert (output.runs, output.error) == ((), None)


@pytest.mark.parametrize(
    ("course", "time", "speed", "tolerance"),
    [
        # Oklahoma State University Turf Program, Sprayer Calibration: 200 ft in 45 s, whole mph.
        ("200 ft", 45, 3, 0.5),
        # 60 × 200 / (88 × 34.1) and 60 × 204 / (88 × 4), by hand.
        ("200 ft", 34.1, 4.00, 0.005),
        ("204 ft", 34.77, 4, 0.001),
    ],
)
def test_a_timed_course_has_the_published_speed(
    course: str, time: float, speed: float, tolerance: float
) -> None:
    length_m = parse_quantity(course).si

    m_per_s = ground_speed_m_per_s(course_length_m=length_m, time_s=time)

    assert quantity_of_si(m_per_s, "mph").value == pytest.approx(speed, abs=tolerance)


# M. Fidanza & J. Kaminski (Penn State), Pennsylvania Turfgrass, carrier volumes after H. Couch; the
# last digit printed gives the tolerance.
@pytest.mark.parametrize(
    ("told", "unit", "same", "tolerance"),
    [
        ("1 gal/1000 sq ft", "gal/acre", 43.56, 1e-9),
        ("2 gal/1000 sq ft", "gal/acre", 87.12, 1e-9),
        ("50 gal/acre", "gal/1000 sq ft", 1.15, 0.005),
        ("100 gal/acre", "gal/1000 sq ft", 2.3, 0.05),
    ],
)
def test_an_output_per_acre_is_the_published_one_per_thousand(
    told: str, unit: str, same: float, tolerance: float
) -> None:
    assert parse_quantity(told).to(unit).value == pytest.approx(same, abs=tolerance)


def test_the_constants_of_the_trade_follow_from_the_relation() -> None:
    # Mesa County (Colorado) Weed & Pest, Stationary Calibration Method for Boom Sprayers: 5940 with
    # inches, 495 with feet, 46.4 with ounces a minute; Oklahoma State University: 101 fl oz are
    # 0.79 gal.
    def gal_per_acre(flow: str, width: str) -> float:
        output = boom_output_l_per_m2(
            nozzle_flow_l_per_s=parse_quantity(flow).si,
            speed_m_per_s=parse_quantity("1 mph").si,
            nozzle_spacing_m=parse_quantity(width).si,
        )
        return quantity_of_si(output, "gal/acre").value

    assert gal_per_acre("1 gal/min", "1 in") == pytest.approx(5940, rel=1e-12)
    assert gal_per_acre("1 gal/min", "1 ft") == pytest.approx(495, rel=1e-12)
    assert gal_per_acre("1 fl oz/min", "1 in") == pytest.approx(46.4, abs=0.05)
    assert parse_quantity("101 fl oz/min").to("gal/min").value == pytest.approx(0.79, abs=0.005)


def test_a_tank_covers_the_published_part_of_an_acre() -> None:
    # Mesa County (Colorado) Weed & Pest, How to Calibrate a Handgun: 25 gal at 150 gal/acre.
    area_m2 = parse_quantity("25 gal").si / parse_quantity("150 gal/acre").si

    assert quantity_of_si(area_m2, "sq ft").value == pytest.approx(43_560 / 6, rel=1e-12)


def test_nozzles_are_held_against_the_mean_of_all() -> None:
    # Worked by hand: the mean of the ten is 34.7 fl oz.
    nozzles = nozzles_of([34, 35, 33, 36, 40, 35, 34, 35, 30, 35])

    assert [nozzle.number for nozzle in nozzles if nozzle.is_off] == [5, 9]
    assert 100 * nozzles[4].deviation == pytest.approx(15.27, abs=0.005)
    assert 100 * nozzles[8].deviation == pytest.approx(-13.54, abs=0.005)


def test_a_tenth_from_the_mean_is_not_off() -> None:
    assert [nozzle.is_off for nozzle in nozzles_of([0.9, 1.0, 1.1])] == [False, False, False]
    assert [nozzle.is_off for nozzle in nozzles_of([0.899, 1.0, 1.101])] == [True, False, True]


def test_a_timed_course_gives_the_speed_of_the_mean_of_its_kept_times() -> None:
    pace = TimedCourse(Quantity(204, "ft"), seconds(34.5, 35.0, 34.81, 50))
    catch = TimedCatch(Quantity(20, "in"), Quantity(34.77, "s"), ounces(80, 80, 80), pace)

    output = output_of(catch, swath_m=3.0)

    # Ohio State Bulletin 817-00: 80 fl oz in the time of 1/128 acre is 80 gal/acre. The course of
    # whole feet is 0.09 % short of it, and the mean of the three times is that of the catch.
    assert [run.number for run in output.flukes] == [4]
    assert quantity_of_si(output.l_per_m2, "gal/acre").value == pytest.approx(80, rel=1e-3)
    assert output.error is not None


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan"), float("inf")])
@pytest.mark.parametrize("measure", ["nozzle_flow_l_per_s", "speed_m_per_s", "nozzle_spacing_m"])
def test_a_boom_that_stands_still_or_has_no_spacing_has_no_output(
    measure: str, wrong: float
) -> None:
    measures = {"nozzle_flow_l_per_s": 0.01, "speed_m_per_s": 1.5, "nozzle_spacing_m": 0.5}

    with pytest.raises(Refused) as refused:
        boom_output_l_per_m2(**measures | {measure: wrong})

    assert refused.value.field == measure


def test_no_course_and_no_time_have_no_speed() -> None:
    with pytest.raises(Refused):
        ground_speed_m_per_s(course_length_m=0.0, time_s=10.0)
    with pytest.raises(Refused):
        course_length_m(area_m2=100.0, swath_m=0.0)


@given(
    catch=readings,
    times=st.lists(shares, min_size=3, max_size=6),
    length=st.floats(min_value=10, max_value=300),
    swath=st.floats(min_value=0.5, max_value=20),
)
def test_all_ways_of_measuring_the_same_machine_agree(
    catch: float, times: list[float], length: float, swath: float
) -> None:
    took = seconds(*(30 * share for share in times))
    mean_s = 30 * statistics.fmean(times)
    passes = TimedPasses(took, ounces(catch), Quantity(20, "s"))
    used = catch * mean_s / 20
    one_nozzle = TimedCatch(
        Quantity(swath, "ft"),
        Quantity(20, "s"),
        ounces(catch),
        TimedCourse(Quantity(length, "ft"), took),
    )

    outputs = [
        output_of(each, swath_m=swath * FOOT_M).l_per_m2
        for each in (
            MeasuredCourse(Quantity(length, "ft"), ounces(used, used, used)),
            HandGunCourse(Quantity(length, "ft"), passes),
            SmallPlot((Quantity(length, "ft"), Quantity(swath, "ft")), passes),
            one_nozzle,
        )
    ]

    assert outputs == pytest.approx([outputs[0]] * 4, rel=1e-9)


@given(catch=readings, time=readings, spacing=readings, speed=st.floats(0.1, 10))
def test_us_and_metric_words_for_the_same_catch_give_the_same_output(
    catch: float, time: float, spacing: float, speed: float
) -> None:
    told = TimedCatch(
        Quantity(spacing, "in"), Quantity(time, "s"), ounces(catch), Quantity(speed, "mph")
    )
    metric = TimedCatch(
        told.nozzle_spacing.to("cm"),
        told.catch_time.to("min"),
        tuple(each.to("mL") for each in told.catches),
        Quantity(speed, "mph").to("km/h"),
    )

    us, other = (output_of(each, swath_m=3.0).l_per_m2 for each in (told, metric))

    assert us == pytest.approx(other, rel=1e-12)


@given(flow=readings, speed=st.floats(0.1, 10), factor=st.floats(0.1, 10))
def test_a_faster_boom_puts_down_less_by_as_much(flow: float, speed: float, factor: float) -> None:
    slow = boom_output_l_per_m2(nozzle_flow_l_per_s=flow, speed_m_per_s=speed, nozzle_spacing_m=0.5)
    fast = boom_output_l_per_m2(
        nozzle_flow_l_per_s=flow, speed_m_per_s=speed * factor, nozzle_spacing_m=0.5
    )

    # NC State Extension, The Calibration of Turfgrass Boom Sprayers: twice the speed, half of it.
    assert fast == pytest.approx(slow / factor, rel=1e-12)


def test_each_output_names_the_way_it_was_measured() -> None:
    passes = TimedPasses(seconds(20, 20, 20), ounces(31))

    course = output_of(HandGunCourse(Quantity(200, "ft"), passes), swath_m=1.5)

    assert course.way is WayOfMeasuring.HAND_GUN_COURSE
    assert not course.is_stated
