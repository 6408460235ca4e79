"""A plan with a hand tool, with a mixed tank and with the wind: what the page says."""

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from planner.models import Machine, Mix, Product
from planner.web.ground_account import FATES, Row
from properties.core.units import Quantity
from properties.models import Person, Property, SetbackRule


@pytest.fixture
def ask(
    client: Client, owner: Person, place: Property, machine: Machine, hand_gun: Machine, mix: Mix
) -> Any:
    """Ask for a plan with both tools, as the owner."""
    client.force_login(owner)
    known = {"machine": str(machine.pk), "hand_tool": str(hand_gun.pk), "mix": str(mix.pk)}

    def asked(**more: str) -> Any:
        return client.get(reverse("plan", args=[place.pk]), known | more)

    return asked


def _value(entry: dict[str, Any]) -> float:
    return float(entry["value"])


def test_each_tool_has_its_own_ground_and_its_own_loads(ask: Any) -> None:
    SetbackRule.objects.filter(kind="flower_bed").update(
        method="boom", distance=Quantity(6.0, "ft")
    )

    page = ask()

    plan = page.context["plan"]
    machine, hand = page.context["tools"]
    assert (machine["name"], hand["name"]) == ("Machine", "Hand tool")
    assert _value(hand["area"]) > 100
    assert _value(plan["treatable_area"]) == pytest.approx(
        _value(machine["area"]) + _value(hand["area"]), rel=1e-9
    )
    # 2.2 and 0.71 gal/1,000 sq ft, the means of the runs by hand.
    for tool, output in ((machine, 0.71), (hand, 2.2)):
        spray = sum(_value(load["volume"]) for load in tool["loads"])
        assert spray == pytest.approx(_value(tool["area"]) / 1000 * output, rel=1e-9)


def test_each_tool_is_told_its_own_distance_from_a_bed(ask: Any) -> None:
    SetbackRule.objects.filter(kind="flower_bed").update(
        method="hand_gun", distance=Quantity(4.0, "ft")
    )
    bed = SetbackRule.objects.get(kind="flower_bed")
    bed.pk, bed.method, bed.distance = None, "boom", Quantity(6.0, "ft")
    bed.save()

    page = ask()

    asked = [feature["asked"] for feature in page.context["kept_from"]]
    told = [[(own["words"], _value(own["distance"])) for own in each] for each in asked if each[1:]]
    assert told == [[("with the machine", 6.0), ("by hand", 4.0)]]
    text = page.content.decode()
    assert "<strong>6 ft</strong> with the machine" in text
    assert "<strong>4 ft</strong> by hand" in text


def test_the_mix_of_one_tool_in_the_other_is_shown_with_its_rate(ask: Any) -> None:
    page = ask()

    # Concentration × output, by hand: what is measured into the machine's first load, over its
    # gallons, laid out at the 2.2 gal/1,000 sq ft of the hand gun.
    load = page.context["plan"]["loads"][0]
    by_hand = _value(load["products"][0]["amount_to_measure"]) / _value(load["volume"]) * 2.2
    text = page.content.decode()
    assert f"{by_hand:.3f} fl oz/1,000 sq ft" in text
    assert 'data-code="mix_not_for_other_tool"' in text
    assert "off the label" in text


def _read(row: Row) -> Decimal:
    number, _ = row.area.split(" ", 1)
    return Decimal(number.replace(",", ""))


def test_the_account_of_the_turf_adds_up_as_it_is_read(ask: Any) -> None:
    SetbackRule.objects.filter(kind="flower_bed").update(
        method="boom", distance=Quantity(6.0, "ft")
    )

    context = ask().context

    turf, *rest = context["account"]
    taken = [row for row in rest if row.is_taken]
    (treatable,) = (row for row in rest if row.is_sum)
    by_tool = rest[len(taken) + 1 :]
    assert [row.words for row in by_tool] == ["of it by the machine", "of it by hand"]
    assert _read(turf) == sum(map(_read, taken)) + _read(treatable)
    assert _read(treatable) == sum(map(_read, by_tool))
    assert FATES["obstacles"] in {row.words for row in taken}
    assert float(_read(turf)) == pytest.approx(_value(context["plan"]["turf_area"]), abs=0.05)


def _tank(mix: Mix, spray: str, herbicide: str, surfactant: str) -> dict[str, str]:
    typed = {"tank_tool": "machine", "tank_spray_0": spray, "tank_spray_1": "gal"}
    for part, amount in zip(mix.parts.all(), (herbicide, surfactant), strict=True):
        typed |= {
            f"tank_product_{part.product_id}_0": amount,
            f"tank_product_{part.product_id}_1": "fl oz",
        }
    return typed


def test_what_is_left_in_a_mixed_tank_is_told(ask: Any, mix: Mix) -> None:
    page = ask(**_tank(mix, "20", "22.5", "6.4"))

    surplus = page.context["plan"]["surplus"]
    assert _value(surplus["spray_left_over"]) == pytest.approx(
        20 - _value(surplus["spray_needed"]), rel=1e-12
    )
    assert b"Left in the tank" in page.content


def test_a_tank_that_holds_too_little_is_made_up(ask: Any, mix: Mix) -> None:
    page = ask(**_tank(mix, "1", "1.1", "0.3"))

    assert _value(page.context["plan"]["surplus"]["spray_missing"]) > 0
    assert b"Still to mix" in page.content


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"tank_spray_0": "plenty"}, b"does not begin with a number"),
        ({"tank_spray_0": "3 L"}, b"is more than a number. Write the number alone"),
        ({"tank_spray_0": "-3"}, b"less than nothing"),
        ({"tank_spray_0": ""}, b"how much finished spray is in the tank too"),
        ({"herbicide": ""}, b"0 if none"),
        ({"unit": "oz wt"}, b"is measured as a volume"),
        ({"hand_tool": ""}, None),
        ({"hand_tool": "0"}, b"No plan yet"),
    ],
)
def test_a_wrong_tank_or_tool_is_said_in_words(
    ask: Any, mix: Mix, product: Product, changed: dict[str, str], words: bytes | None
) -> None:
    typed = _tank(mix, "20", "22.5", "6.4")
    typed |= {name: value for name, value in changed.items() if name in typed}
    if "herbicide" in changed:
        typed[f"tank_product_{product.pk}_0"] = changed["herbicide"]
    if "unit" in changed:
        typed[f"tank_product_{product.pk}_1"] = changed["unit"]
    if "hand_tool" in changed:
        typed["hand_tool"] = changed["hand_tool"]

    page = ask(**typed)

    assert page.status_code == (200 if words is None else 422)
    assert words is None or words in page.content


@pytest.mark.parametrize(
    ("typed", "bearing"),
    [
        ("W", 270),
        ("nnw", 337.5),
        ("315", 315),
        ("0", 0),
        ("360", 0),
        ("270 deg", 270),
        ("45°", 45),
    ],
)
def test_the_wind_is_read_as_a_point_or_in_degrees(ask: Any, typed: str, bearing: float) -> None:
    page = ask(wind_speed_0="5", wind_speed_1="mph", wind_from=typed)

    assert _value(page.context["plan"]["wind"]["from"]) == bearing


@pytest.mark.parametrize("typed", ["400", "360.5", "-10", "up", "NNN", "1e9"])
def test_a_direction_that_is_none_is_refused_beside_its_field(ask: Any, typed: str) -> None:
    page = ask(wind_from=typed)

    assert page.status_code == 422
    assert "is no direction" in page.context["form"].errors["wind_from"][0]


def test_a_tool_that_is_not_calibrated_is_named(ask: Any, hand_gun: Machine) -> None:
    hand_gun.calibrations.all().delete()

    page = ask()

    assert page.status_code == 422
    assert b"Hand gun has no calibration" in page.content


def test_turf_behind_a_narrow_gate_is_done_by_hand(
    ask: Any, machine: Machine, place: Property
) -> None:
    machine.width = Quantity(5.0, "ft")
    machine.save()
    place.outlines.filter(ref="lawn").update(gate=Quantity(4.0, "ft"))

    context = ask().context

    assert _value(context["plan"]["machine_area"]) == 0
    assert _value(context["plan"]["hand_area"]) > 10_000


def test_how_sure_the_area_is_and_what_to_measure_again(ask: Any, place: Property) -> None:
    assert b"Nobody says how far the corners" in ask().content

    place.outlines.update(measured_by="imagery")
    page = ask()

    uncertainty = page.context["plan"]["uncertainty"]
    again = uncertainty["remeasure"]
    assert _value(uncertainty["treatable_area"]["plus_minus"]) > 0
    assert again["halves"] is True
    assert _value(again["half_width_after"]) <= _value(
        uncertainty["treatable_area"]["plus_minus"]
    ) / 2 * (1 + 1e-9)
    assert b"Measured again, this would halve it" in page.content


def test_how_a_lawn_is_driven_is_told_with_its_lines(ask: Any, machine: Machine) -> None:
    machine.speed = Quantity(4.0, "mph")
    machine.save()

    page = ask()

    passes = page.context["plan"]["passes"]
    # 4 mph are 352 ft a minute: 5,280 × 4 / 60.
    assert _value(passes["work_time"]) == pytest.approx(_value(passes["driven_length"]) / 352)
    assert page.context["map_json"]["passes"]
    assert b"How to drive it" in page.content
