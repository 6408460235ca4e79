"""The output of a spreader by its catch tests, and its table of settings."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.machine.spreaders import (
    CatchRun,
    CatchTests,
    DialSetting,
    DryRun,
    StatedSpread,
    next_setting,
    settings_table,
    spread_output_of,
)
from properties.core.units import Quantity


def catch_tests(*runs: tuple[float, float], area: float = 100.0) -> CatchTests:
    """Catch tests over so many m²: the setting, and the kg used."""
    return CatchTests(
        tuple(CatchRun(setting, Quantity(kg, "kg")) for setting, kg in runs),
        area=Quantity(area, "m2"),
    )


def test_the_last_setting_stands_with_the_mean_of_its_runs() -> None:
    output = spread_output_of(catch_tests((6, 1.2), (5, 1.0), (5, 1.02), (5, 1.01)), swath_m=4)

    assert output.setting == 5
    assert output.kg_per_m2 == pytest.approx(0.0101)
    assert [run.number for run in output.here] == [2, 3, 4]


def test_a_run_far_from_the_others_at_its_setting_is_left_out() -> None:
    output = spread_output_of(catch_tests((5, 1.0), (5, 1.4), (5, 1.02)), swath_m=4)

    assert [run.number for run in output.kept] == [1, 3]
    assert output.kg_per_m2 == pytest.approx(0.0101)


# NC Cooperative Extension, Onslow County, K. Holt, Calibrating Your Spreader, 2017: with a swath
# of 8 ft a course of 125 ft is 1,000 sq ft.
def test_a_course_times_the_swath_is_the_published_ground() -> None:
    course = CatchTests((CatchRun(3, Quantity(5, "lb")),), course_length=Quantity(125, "ft"))

    output = spread_output_of(course, swath_m=Quantity(8, "ft").si)

    assert output.kg_per_m2 == pytest.approx(Quantity(5, "lb/1000 sq ft").si)


def test_a_stated_output_has_no_setting() -> None:
    output = spread_output_of(StatedSpread(Quantity(10, "g/m2")), swath_m=4)

    assert output.kg_per_m2 == pytest.approx(0.010)
    assert output.setting is None
    assert output.kept == ()


def test_the_table_has_the_mean_of_each_setting() -> None:
    runs = [
        DryRun(1, 6, 0.012),
        DryRun(2, 5, 0.010),
        DryRun(3, 5, 0.0104),
        DryRun(4, 5, 0.02, kept=False),
    ]

    assert settings_table(runs) == (DialSetting(5, 0.0102, 2), DialSetting(6, 0.012, 1))


TABLE = (DialSetting(4, 0.008, 1), DialSetting(5, 0.010, 2), DialSetting(7, 0.016, 1))


@pytest.mark.parametrize(
    ("wanted", "setting"),
    [(0.009, 4.5), (0.013, 6), (0.010, 5), (0.007, None), (0.017, None)],
)
def test_a_setting_is_told_between_two_tests_and_never_beyond(
    wanted: float, setting: float | None
) -> None:
    assert next_setting(TABLE, wanted=wanted) == (
        None if setting is None else pytest.approx(setting)
    )


def test_two_settings_with_the_same_output_tell_nothing() -> None:
    assert next_setting((DialSetting(4, 0.01, 1), DialSetting(5, 0.01, 1)), wanted=0.01) is None


@given(
    outputs=st.lists(st.floats(0.001, 0.1), min_size=2, max_size=6), wanted=st.floats(0.001, 0.1)
)
def test_a_told_setting_lies_between_settings_that_were_tested(
    outputs: list[float], wanted: float
) -> None:
    table = [DialSetting(float(n), output, 1) for n, output in enumerate(outputs)]

    setting = next_setting(table, wanted=wanted)

    if setting is not None:
        assert 0 <= setting <= len(outputs) - 1
        assert min(outputs) <= wanted <= max(outputs)
