"""Pressure, speed, tip and density: what they make of an output, against print and by identity."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.machine.what_if import (
    Change,
    WhatIf,
    flow_ratio,
    output_then_l_per_m2,
    pressure_for,
)
from properties.core.errors import Refused
from properties.core.units import Quantity, parse_quantity, quantity_of_si

near = st.floats(0.8, 1.25)
pressures = st.floats(5, 100)


def change(now: str, then: str) -> Change:
    return Change(parse_quantity(now), parse_quantity(then))


# 0.40 gal/min at 40 psi by the law of the root: √(p / 40) × 0.40, by hand to four decimals; it is
# stated in the national applicator Core Manual as twice the flow for four times the pressure.
@pytest.mark.parametrize(("psi", "flow"), [(10, 0.2000), (20, 0.2828), (60, 0.4899), (160, 0.8000)])
def test_the_flow_of_a_tip_goes_with_the_root_of_the_pressure(psi: float, flow: float) -> None:
    assert 0.40 * flow_ratio(change("40 psi", f"{psi} psi")) == pytest.approx(flow, abs=5e-5)


def test_a_quarter_more_flow_needs_over_half_as_much_pressure_again() -> None:
    pressure_pa = pressure_for(pressure_pa=parse_quantity("40 psi").si, flow_share=0.5 / 0.4)

    # By hand: 40 × (0.5 / 0.4)² = 62.5 psi. Twice the speed at the same output: four times.
    assert quantity_of_si(pressure_pa, "psi").value == pytest.approx(62.5)
    assert pressure_for(pressure_pa=1.0, flow_share=2.0) == 4.0


@pytest.mark.parametrize(
    ("output", "changes", "then"),
    [
        # NC State Extension, The Calibration of Turfgrass Boom Sprayers: 20 gal/acre at 3 mph is
        # 10 at 6 mph. At 3.4 instead of 4 mph by hand 1.1765 times as much.
        ("20 gal/acre", WhatIf(speed=change("3 mph", "6 mph")), "10 gal/acre"),
        ("1 gal/1000 sq ft", WhatIf(speed=change("4 mph", "3.4 mph")), "1.17647 gal/1000 sq ft"),
        # 0.20 gal/min at 32 psi is 0.2236 at 40: √1.25.
        ("1 L/100 m2", WhatIf(pressure=change("32 psi", "40 psi")), "1.11803 L/100 m2"),
        ("1 L/100 m2", WhatIf(tip_flow=change("0.2 gal/min", "0.3 gal/min")), "1.5 L/100 m2"),
        ("1 L/100 m2", WhatIf(specific_gravity=1.28), "0.883883 L/100 m2"),
        ("1 L/100 m2", WhatIf(), "1 L/100 m2"),
    ],
)
def test_what_would_be_is_worked_out(output: str, changes: WhatIf, then: str) -> None:
    found = output_then_l_per_m2(parse_quantity(output).si, changes=changes)

    assert found == pytest.approx(parse_quantity(then).si, rel=1e-5)


@pytest.mark.parametrize("then", ["29.9 psi", "50.1 psi", "345 kPa"])
def test_a_large_change_of_pressure_asks_for_another_tip(then: str) -> None:
    with pytest.raises(Refused) as refused:
        output_then_l_per_m2(1.0, changes=WhatIf(pressure=change("40 psi", then)))

    assert refused.value.field == "pressure_then"
    assert "Change the tip" in refused.value.remedy


def test_a_quarter_more_pressure_is_just_allowed() -> None:
    assert output_then_l_per_m2(1.0, changes=WhatIf(pressure=change("40 psi", "50 psi"))) > 1


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        (WhatIf(pressure=change("0 psi", "40 psi")), "pressure_now"),
        (WhatIf(speed=change("4 mph", "0 mph")), "speed_then"),
        (WhatIf(tip_flow=change("0 gal/min", "0.2 gal/min")), "tip_flow_now"),
        (WhatIf(specific_gravity=0.0), "specific_gravity"),
    ],
)
def test_nothing_is_told_from_nothing(changes: WhatIf, field: str) -> None:
    with pytest.raises(Refused) as refused:
        output_then_l_per_m2(1.0, changes=changes)

    assert refused.value.field == field


@given(now=pressures, share=near, there=st.floats(0.5, 2))
def test_a_change_and_the_way_back_leave_the_output_as_it_was(
    now: float, share: float, there: float
) -> None:
    first, second = Quantity(now, "psi"), Quantity(now * share, "psi")
    slow, fast = Quantity(1.0, "m/s"), Quantity(there, "m/s")

    out = output_then_l_per_m2(0.05, changes=WhatIf(Change(first, second), Change(slow, fast)))
    back = output_then_l_per_m2(out, changes=WhatIf(Change(second, first), Change(fast, slow)))

    assert back == pytest.approx(0.05, rel=1e-12)


@given(now=pressures, share=st.floats(0.3, 3))
def test_the_pressure_for_a_flow_gives_that_flow(now: float, share: float) -> None:
    then = pressure_for(pressure_pa=now, flow_share=share)

    assert flow_ratio(Change(Quantity(now / 1000, "kPa"), Quantity(then / 1000, "kPa"))) == (
        pytest.approx(share, rel=1e-9)
    )
