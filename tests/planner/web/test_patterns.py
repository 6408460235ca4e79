"""Spread patterns and what-ifs on the page: worked out, drawn, refused beside the box."""

from typing import Any
from urllib.parse import urlencode

import pytest
from django.test import Client
from django.urls import reverse

from planner.models import Machine, Mix, PatternTest
from properties.core.units import Quantity
from properties.core.working import Figure
from properties.models import Person
from tests.planner.core.workings.test_workings import by_hand

SKEWED = "0.4 1.1 2.1 3.3 4.3 4.9 5.1 5.0 4.8 4.4 3.9 3.2 2.3 1.4 0.7 0.3 0.1"
PANS = {
    "pan_spacing_0": "1",
    "pan_spacing_1": "ft",
    "unit": "g",
    "catches": SKEWED,
    "ceiling_percent": "15",
    "note": "Invented feed, setting 14",
}


def reckoned(figure: Figure) -> float:
    inputs = [{"name": each.name, "value": each.quantity.value} for each in figure.inputs]
    return by_hand({"formula": figure.formula, "inputs": inputs})


def test_a_pattern_ends_at_its_swaths_its_plots_and_its_working(
    client: Client, crew: Person, machine: Machine
) -> None:
    client.force_login(crew)

    page = client.post(reverse("new_pattern", args=[machine.pk]), PANS, follow=True)

    sheet = page.context["sheet"]
    back, round_ = sheet.driven
    # The variation of every spacing is checked by hand in the core; here round and round 11 ft is
    # the last even one, and back and forth 5 ft, for the pattern leans to the left.
    assert (back.words, str(back.swath)) == ("Back and forth", "5 ft")
    assert (round_.words, str(round_.swath)) == ("Round and round", "11 ft")
    assert str(sheet.half_rate.result.value)[:6] == "9.6388"
    for figure in (sheet.half_rate, back.variation, round_.variation):
        assert reckoned(figure) == pytest.approx(figure.result.value, rel=1e-11)
    assert page.content.count(b"pattern-bar") == 17
    assert page.content.count(b"<polyline") == 2


@pytest.mark.parametrize(
    ("changed", "field", "words"),
    [
        ({"catches": "1 2 3 2"}, "catches", "An odd number"),
        ({"catches": "1 2 lots 2 1"}, "catches", "(pan 3) is not a number"),
        ({"catches": "1 2 0 2 1"}, "catches", "The middle pan caught nothing"),
        ({"catches": "1 2 nan 2 1"}, "catches", "Weigh it again"),
        ({"catches": ""}, "catches", "required"),
        ({"pan_spacing_0": "0"}, "pan_spacing", "above zero"),
        ({"pan_spacing_0": "1e9"}, "pan_spacing", "cannot be right"),
    ],
)
def test_pans_that_make_no_pattern_are_said_beside_their_box(
    client: Client, crew: Person, machine: Machine, changed: dict[str, str], field: str, words: str
) -> None:
    client.force_login(crew)

    answer = client.post(reverse("new_pattern", args=[machine.pk]), PANS | changed)

    assert answer.status_code == 422
    assert words in answer.context["form"].errors[field][0]
    assert b"Invented feed, setting 14" in answer.content
    assert not PatternTest.objects.exists()


def test_a_row_of_pans_that_was_too_short_is_told(
    client: Client, crew: Person, machine: Machine
) -> None:
    client.force_login(crew)
    short = PANS | {"catches": "3 4 5 4 3"}

    page = client.post(reverse("new_pattern", args=[machine.pk]), short, follow=True)

    assert b"the row was too short" in page.content


def asked(client: Client, machine: Machine, **typed: str) -> tuple[int, Any]:
    answer = client.get(f"{reverse('what_if', args=[machine.pk])}?{urlencode(typed)}")
    return answer.status_code, answer.context


def test_another_speed_shows_the_output_the_rate_and_the_label(
    client: Client, crew: Person, machine: Machine, mix: Mix
) -> None:
    client.force_login(crew)

    status, context = asked(
        client,
        machine,
        speed_now_0="4",
        speed_now_1="mph",
        speed_then_0="3",
        speed_then_1="mph",
        mix=str(mix.pk),
    )

    assert status == 200
    sheet = context["sheet"]
    # 0.71 gal/1,000 sq ft × 4 / 3, and 0.8 fl oz × 4 / 3, which is over the label's 1.00.
    assert sheet.output.result.value == pytest.approx(0.71 * 4 / 3)
    herbicide = sheet.products[0]
    assert herbicide.rate.result.value == pytest.approx(0.8 * 4 / 3)
    assert "Over the label’s highest rate" in herbicide.faults[0]
    for figure in (sheet.output, herbicide.rate):
        assert reckoned(figure) == pytest.approx(figure.result.value, rel=1e-11)


def test_every_change_together_reads_back_by_hand(
    client: Client, crew: Person, machine: Machine
) -> None:
    client.force_login(crew)

    _, context = asked(
        client,
        machine,
        pressure_now_0="40",
        pressure_now_1="psi",
        pressure_then_0="3",
        pressure_then_1="bar",
        tip_flow_now_0="0.2",
        tip_flow_now_1="gal/min",
        tip_flow_then_0="1",
        tip_flow_then_1="L/min",
        specific_gravity="1.28",
    )

    figure = context["sheet"].output
    assert reckoned(figure) == pytest.approx(figure.result.value, rel=1e-9)


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"pressure_now_0": "40", "pressure_then_0": "60"}, "pressure_then", "beyond 25 %"),
        ({"pressure_now_0": "40"}, "pressure_then", "Fill in this box too"),
        ({"speed_then_0": "4"}, "speed_now", "Fill in this box too"),
        ({"speed_now_0": "0", "speed_then_0": "4"}, "speed_now", "above zero"),
        ({"specific_gravity": "9"}, "specific_gravity", "less than or equal to 3"),
    ],
)
def test_a_thought_that_cannot_be_is_said_beside_its_box(
    client: Client, crew: Person, machine: Machine, typed: dict[str, str], field: str, words: str
) -> None:
    client.force_login(crew)
    units = {"pressure_now_1": "psi", "pressure_then_1": "psi"}
    units |= {"speed_now_1": "mph", "speed_then_1": "mph"}

    status, context = asked(client, machine, **units, **typed)

    assert status == 422
    assert words in context["form"].errors[field][0]


def test_nothing_thought_of_says_what_to_do(client: Client, crew: Person, machine: Machine) -> None:
    client.force_login(crew)

    status, context = asked(client, machine, mix="")

    assert status == 422
    assert "Fill in both boxes" in context["form"].non_field_errors()[0]


def test_a_carrier_outside_the_label_is_told(
    client: Client, crew: Person, machine: Machine, mix: Mix
) -> None:
    product = mix.parts.all()[0].product
    product.carrier_min = Quantity(0.7, "gal/1000 sq ft")
    product.save()
    client.force_login(crew)

    _, context = asked(
        client,
        machine,
        speed_now_0="4",
        speed_now_1="mph",
        speed_then_0="5",
        speed_then_1="mph",
        mix=str(mix.pk),
    )

    faults = context["sheet"].products[0].faults
    assert "Less spray than the label asks for, 0.7 gal/1000 sq ft." in faults


@pytest.mark.parametrize(
    ("pair", "unit", "ends"),
    [
        ("speed", "mph", "between 0.1118 mph and 44.74 mph"),
        ("pressure", "psi", "between 0.7252 psi and 1,450 psi"),
        ("tip_flow", "gal/min", "between 0.0002642 gal/min and 264.2 gal/min"),
    ],
)
def test_a_change_that_no_sprayer_can_make_is_told_with_its_ends(
    client: Client, crew: Person, machine: Machine, pair: str, unit: str, ends: str
) -> None:
    client.force_login(crew)

    status, context = asked(
        client,
        machine,
        **{f"{pair}_now_0": "4", f"{pair}_now_1": unit},
        **{f"{pair}_then_0": "1e308", f"{pair}_then_1": unit},
    )

    assert status == 422
    (words,) = context["form"].errors[f"{pair}_then"]
    assert "cannot be right" in words
    assert ends in words
