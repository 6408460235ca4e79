"""Tips: what new ones give, how wide their fans are, and which drops a label asks for."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.machine.tips import NEW_TIP_FLOWS, fan_width_m, new_tip_flow_l_per_s
from planner.core.plan import Plan, plan_from_json
from properties.core.errors import FaultsFound, Refused
from properties.core.units import Quantity, quantity_of_si
from tests.planner.core.asking import HERBICIDE, MACHINE, asking, codes, with_machine, with_output

PSI_40 = Quantity(40.0, "psi").si
INCH_M = 0.0254


# ISO 10625 (colour code of nozzles): nominal gal/min at 40 psi, 3 bar; the size in tenths.
@pytest.mark.parametrize(
    ("size", "gal_per_min"),
    [
        ("01", 0.1), ("015", 0.15), ("02", 0.2), ("025", 0.25), ("03", 0.3),
        ("04", 0.4), ("05", 0.5), ("06", 0.6), ("08", 0.8),
    ],
)  # fmt: skip
def test_a_tip_gives_what_its_size_says(size: str, gal_per_min: float) -> None:
    flow = new_tip_flow_l_per_s(size=size, pressure_pa=PSI_40)

    assert quantity_of_si(flow, "gal/min").value == pytest.approx(gal_per_min)
    # Twice the flow takes four times the pressure.
    assert new_tip_flow_l_per_s(size=size, pressure_pa=4 * PSI_40) == pytest.approx(2 * flow)


# 2 × 20 in × tan(40°) and tan(55°), by hand.
@pytest.mark.parametrize(("angle", "inches"), [(80, 33.56), (110, 57.13)])
def test_a_fan_is_as_wide_as_its_angle_makes_it(angle: float, inches: float) -> None:
    width_m = fan_width_m(height_m=20 * INCH_M, angle_deg=angle)

    assert width_m / INCH_M == pytest.approx(inches, abs=0.005)


@given(height=st.floats(0.01, 3), angle=st.floats(5, 85), times=st.floats(1, 2))
def test_a_fan_grows_with_its_height_and_faster_with_its_angle(
    height: float, angle: float, times: float
) -> None:
    width_m = fan_width_m(height_m=height, angle_deg=angle)

    assert fan_width_m(height_m=height * times, angle_deg=angle) == pytest.approx(width_m * times)
    assert fan_width_m(height_m=height, angle_deg=angle * times) >= width_m * times * (1 - 1e-9)


def test_a_tip_without_a_size_or_a_pressure_has_no_flow() -> None:
    with pytest.raises(Refused, match="07 is no size"):
        new_tip_flow_l_per_s(size="07", pressure_pa=PSI_40)
    with pytest.raises(Refused):
        new_tip_flow_l_per_s(size="04", pressure_pa=0.0)
    with pytest.raises(Refused):
        fan_width_m(height_m=0.0, angle_deg=80)
    assert set(NEW_TIP_FLOWS) == {"01", "015", "02", "025", "03", "04", "05", "06", "08"}


def planned(tip: dict[str, str] | None, **label: str) -> Plan:
    mix = [HERBICIDE | {"label": HERBICIDE["label"] | label}]
    machine = MACHINE if tip is None else MACHINE | {"tip": tip}
    return plan_from_json(asking(machine=machine, mix=mix))


MEDIUM_UP = {"finest_droplets": "medium"}
FINE_DOWN = {"coarsest_droplets": "fine"}


@pytest.mark.parametrize(
    ("tip", "label", "refused", "warned"),
    [
        ({"droplets": "medium"}, MEDIUM_UP, [], []),
        ({"droplets": "fine"}, MEDIUM_UP, ["droplets_too_fine"], []),
        ({"droplets": "ultra_coarse"}, MEDIUM_UP, [], []),
        ({"droplets": "fine"}, FINE_DOWN, [], []),
        ({"droplets": "medium"}, FINE_DOWN, ["droplets_too_coarse"], []),
        (None, MEDIUM_UP, [], ["droplets_unknown"]),
        ({"size": "04"}, FINE_DOWN, [], ["droplets_unknown"]),
        (None, {}, [], []),
    ],
)
def test_the_drops_of_the_tips_are_those_of_the_label(
    tip: dict[str, str] | None, label: dict[str, str], refused: list[str], warned: list[str]
) -> None:
    plan = planned(tip, **label)

    assert (codes(plan.refusals), codes(plan.warnings)) == (refused, warned)


def test_each_tool_has_its_own_tips() -> None:
    mix = [HERBICIDE | {"label": HERBICIDE["label"] | MEDIUM_UP}]
    gun = with_output("2 gal/1000 sq ft", kind="hand_gun", swath="3 ft", tanks=["5 gal"])
    request = asking(
        machine=MACHINE | {"tip": {"droplets": "coarse"}},
        hand_tool=gun | {"tip": {"droplets": "fine"}},
        mix=mix,
    )

    (refusal,) = plan_from_json(request).refusals

    assert refusal.message.startswith("Hand tool: ")


def test_drops_are_judged_on_a_route_too() -> None:
    request = asking(
        machine=MACHINE | {"tip": {"droplets": "fine"}, "unsprayable": "0 gal"},
        mix=[HERBICIDE | {"label": HERBICIDE["label"] | MEDIUM_UP}],
        route={"stops": [{"area": "2000 sq ft"}]},
    )

    assert codes(plan_from_json(request).refusals).count("droplets_too_fine") == 1


@pytest.mark.parametrize(
    ("height", "angle", "warned"),
    [
        # 2 × 10 in × tan(55°) are 28.6 in; 2 × 10 in × tan(40°) are 16.8 in: less than 20 in.
        ("10 in", "110 deg", []),
        ("10 in", "80 deg", ["fans_do_not_meet"]),
    ],
)
def test_fans_that_do_not_meet_leave_stripes(height: str, angle: str, warned: list[str]) -> None:
    tip = {"height": height, "angle": angle}

    plan = plan_from_json(with_machine(nozzle_spacing="20 in", tip=tip))

    assert codes(plan.warnings) == warned


def caught(ounces: float, **tip: Any) -> Plan:
    """A catch of 30 s from each of six tips at 40 psi; 04 gives 25.6 fl oz in that time."""
    catch = {
        "method": "timed_catch",
        "nozzle_spacing": "20 in",
        "catch_time": "30 s",
        "catches": [f"{ounces} fl oz"] * 6,
        "course_length": "200 ft",
        "times": ["34 s", "34.1 s", "34.2 s"],
        "set_up": {"pressure": "40 psi"},
    }
    return plan_from_json(
        with_machine(calibration=catch, set_up={"pressure": "40 psi"}, nozzles=6, **tip)
    )


@pytest.mark.parametrize(
    ("ounces", "words"),
    [(28.1, ""), (28.3, "11% more"), (23.1, ""), (22.9, "11% less")],
)
def test_tips_are_held_against_new_ones_of_their_size(ounces: float, words: str) -> None:
    found = [
        each.message
        for each in caught(ounces, tip={"size": "04"}).warnings
        if each.code == "tips_unlike_new"
    ]

    assert [words in message for message in found] == ([True] if words else [])


def test_tips_of_an_unknown_size_are_held_against_nothing() -> None:
    assert "tips_unlike_new" not in codes(caught(40).warnings)


@pytest.mark.parametrize(
    ("tip", "field"),
    [
        ({"size": "07"}, "size"),
        ({"droplets": "huge"}, "droplets"),
        ({"angle": "180 deg"}, "angle"),
        ({"height": "0 in"}, "height"),
        ({"colour": "blue"}, "colour"),
    ],
)
def test_a_slip_about_tips_is_said_at_its_member(tip: dict[str, str], field: str) -> None:
    with pytest.raises(FaultsFound) as found:
        plan_from_json(with_machine(tip=tip))

    assert [fault.field for fault in found.value.faults] == [f"machine.tip.{field}"]
