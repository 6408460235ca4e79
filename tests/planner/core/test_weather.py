"""The wind as it was told, and what it stops."""

import pytest

from planner.core.label.labels import Label
from planner.core.mix.products import Product
from planner.core.weather import (
    COMPASS_POINTS,
    Weather,
    compass_bearing,
    weather_findings,
)
from properties.core.units import parse_quantity
from tests.planner.core.asking import codes

UNLIMITED = Product("Invented feed", parse_quantity("1 %"))
LIMITED = Product(
    "Invented herbicide", parse_quantity("1 %"), Label(wind_max=parse_quantity("10 mph"))
)


def wind(speed: str) -> Weather:
    return Weather(wind_speed=parse_quantity(speed))


def test_a_compass_point_is_where_the_wind_comes_from() -> None:
    bearings = {point: compass_bearing(point).value for point in COMPASS_POINTS}

    assert len(bearings) == 16
    assert (bearings["N"], bearings["E"], bearings["S"], bearings["W"]) == (0, 90, 180, 270)
    assert (bearings["NNE"], bearings["NE"], bearings["NNW"]) == (22.5, 45, 337.5)


@pytest.mark.parametrize(
    ("speed", "refused"),
    [("10 mph", []), ("10.1 mph", ["wind_over_label"]), ("4.5 m/s", ["wind_over_label"])],
)
def test_more_wind_than_a_label_allows_is_refused(speed: str, refused: list[str]) -> None:
    # 1 mph is 0.44704 m/s, so 4.5 m/s is 10.07 mph.
    found = weather_findings(wind(speed), [UNLIMITED, LIMITED])

    assert codes(found.refusals) == refused
    assert all(finding.product == "Invented herbicide" for finding in found.refusals)


def test_an_unmeasured_wind_is_told_for_the_label_that_limits_it() -> None:
    without_speed = weather_findings(Weather(), [UNLIMITED, LIMITED])
    without_weather = weather_findings(None, [UNLIMITED, LIMITED])

    assert codes(without_speed.warnings) == ["wind_not_in_shape", "wind_unknown"]
    assert codes(without_weather.warnings) == ["wind_unknown"]
    assert without_weather.warnings[0].product == "Invented herbicide"


def test_no_weather_and_no_limit_need_no_word() -> None:
    assert weather_findings(None, [UNLIMITED]).warnings == ()


@pytest.mark.parametrize(
    ("speed", "is_told"), [("0 mph", True), ("2.9 mph", True), ("3 mph", False)]
)
def test_very_still_air_is_told(speed: str, is_told: bool) -> None:
    assert ("wind_calm" in codes(weather_findings(wind(speed), []).warnings)) is is_told
