"""Areas that were stated and not drawn: how far they may be out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from properties.core.accuracy import area_sigma_m2
from properties.core.errors import Refused
from properties.core.frame import frame_around
from properties.core.stated import StatedGround, half_width_figure, stand_in
from properties.core.units import Quantity


def _ground(value: float = 10_000.0, share: float = 0.15) -> StatedGround:
    return StatedGround(Quantity(value, "sq ft"), share, "As stated in lots.csv, row 3, not drawn")


def test_the_error_bar_holds_95_of_100_draws_of_a_normal_distribution() -> None:
    figure = half_width_figure(_ground())

    # NIST/SEMATECH e-Handbook, section 1.3.6.7.1: 1.96 standard deviations of 1,500 sq ft.
    assert figure.result.value == pytest.approx(2940, rel=1e-12)
    assert figure.result.unit == "sq ft"
    assert "lots.csv, row 3" in figure.source
    assert "Common practice" in figure.source


@given(value=st.floats(1, 1e6), share=st.floats(0.001, 1))
def test_the_bar_lies_around_the_stated_area_and_never_below_no_ground(
    value: float, share: float
) -> None:
    ground = _ground(value, share)

    assert 0 <= ground.low_m2 < ground.area_m2 < ground.high_m2
    assert ground.high_m2 - ground.area_m2 == pytest.approx(1.96 * ground.sigma_m2)


@pytest.mark.parametrize(("value", "share"), [(0, 0.15), (-1, 0.15), (100, 0), (100, 1.5)])
def test_no_area_and_no_error_are_refused(value: float, share: float) -> None:
    with pytest.raises(Refused, match="no area to reckon with"):
        _ground(value, share)


@given(
    value=st.floats(100, 1e6),
    share=st.floats(0.01, 0.5),
    longitude=st.floats(-179, 179),
    latitude=st.floats(-70, 70),
)
def test_the_square_for_a_price_is_as_large_and_as_unsure_as_what_was_stated(
    value: float, share: float, longitude: float, latitude: float
) -> None:
    ground = _ground(value, share)

    square = stand_in(ground, longitude=longitude, latitude=latitude)

    # Told by the code that measures every drawing, not by the formula of the square.
    plane = frame_around([square.outline]).to_plane(square.outline)
    sigma_m2 = area_sigma_m2(plane, sigma_m=square.sigma_m)
    assert plane.area == pytest.approx(ground.area_m2, rel=1e-6)
    assert sigma_m2 == pytest.approx(ground.sigma_m2, rel=1e-4)
