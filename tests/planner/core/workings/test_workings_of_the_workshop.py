"""The figures of the workshop, reconstructed by hand from their own working."""

import pytest

from planner.core.machine.pattern import Mode, overlap_of, pattern_of
from planner.core.machine.what_if import Change, WhatIf, output_then_l_per_m2
from planner.core.shown import SHOWN, Units
from planner.core.workings.pattern import half_rate_figure, overlap_figure
from planner.core.workings.what_if import output_then_figure, rate_then_figure
from properties.core.units import Quantity
from properties.core.working import Figure
from tests.planner.core.workings.test_workings import by_hand

PANS = (0.2, 1.0, 2.2, 3.4, 4.2, 4.4, 4.0, 3.0, 1.8, 0.8, 0.2)


def reckoned(figure: Figure) -> float:
    inputs = [{"name": each.name, "value": each.quantity.value} for each in figure.inputs]
    return by_hand({"formula": figure.formula, "inputs": inputs})


@pytest.mark.parametrize("mode", list(Mode))
def test_the_variation_of_passes_is_worked_out_from_its_points(mode: Mode) -> None:
    pattern = pattern_of(pan_spacing_m=0.3048, catches=PANS)
    overlap = overlap_of(pattern, spacing_m=6 * 0.3048, mode=mode)

    figure = overlap_figure(pattern, overlap, name="Six feet", unit="g")

    assert len(figure.inputs) == (13 if mode is Mode.BACK_AND_FORTH else 7)
    assert reckoned(figure) == pytest.approx(figure.result.value, rel=1e-11)
    assert figure.result.value == pytest.approx(100 * overlap.variation)


def test_the_swath_of_the_half_rate_is_the_sum_of_its_sides() -> None:
    figure = half_rate_figure(pattern_of(pan_spacing_m=0.3048, catches=PANS), length_unit="ft")

    # Half of 4.4 is 2.2: three pans to the left exactly, and 2 + (4.0 − 2.2 − 1.0) / 1.2 to the
    # right, between 3.0 at two pans and 1.8 at three.
    assert figure.result.value == pytest.approx(3 + 2 + 0.8 / 1.2)
    assert reckoned(figure) == pytest.approx(figure.result.value, rel=1e-12)


@pytest.mark.parametrize("units", list(Units))
def test_an_output_there_would_be_is_worked_out_from_its_changes(units: Units) -> None:
    changes = WhatIf(
        pressure=Change(Quantity(40, "psi"), Quantity(3, "bar")),
        speed=Change(Quantity(4, "mph"), Quantity(5, "km/h")),
        tip_flow=Change(Quantity(0.2, "gal/min"), Quantity(1, "L/min")),
        specific_gravity=1.28,
    )
    now = Quantity(0.71, "gal/1000 sq ft").si
    then = output_then_l_per_m2(now, changes=changes)

    figure = output_then_figure(now, then, changes, shown=SHOWN[units])
    rate = rate_then_figure(
        "Invented herbicide", Quantity(0.8, "fl oz/1000 sq ft"), changes.ratio, figure
    )

    assert reckoned(figure) == pytest.approx(figure.result.value, rel=1e-11)
    assert reckoned(rate) == pytest.approx(rate.result.value, rel=1e-11)
    assert rate.result.value == pytest.approx(0.8 * then / now)


def test_a_speed_alone_has_only_its_own_terms() -> None:
    changes = WhatIf(speed=Change(Quantity(4, "mph"), Quantity(3, "mph")))

    figure = output_then_figure(0.03, 0.04, changes, shown=SHOWN[Units.US])

    assert figure.formula == "output now × speed now / speed then"
    assert reckoned(figure) == pytest.approx(figure.result.value, rel=1e-11)
