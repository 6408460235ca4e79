"""The loads of a day on their page: a route worked by hand, a refill, and what is refused.

The same job is planned by request in ``planner/core/test_route_scenario.py``; here its lawns are
drawn as rectangles, 0.2 % of an area and 0.5 % of a volume apart from the numbers of the plane.
"""

import json
from datetime import date
from typing import Any
from urllib.parse import urlencode

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from planner.core.answers import answer
from planner.models import Container, Machine, Movement, NutrientLimit, Product
from planner.services.applications import Entered, record_application
from planner.services.day_loads import loaded_in
from planner.services.equipment import keep_machine
from planner.services.stock import Act, Purchase, buy, first_store, keep_container
from properties.core.units import Quantity
from properties.models import Person
from tests.pennywhistle import Day, hand_tool_of

GALLONS = 0.005


def test_a_hand_tool_does_the_strip_of_a_lawn_with_its_own_load(
    signed_in: Client, with_strip: Day
) -> None:
    question = with_strip.question(hand_tool=hand_tool_of(with_strip).pk)

    page = signed_in.get(reverse("loads"), question)

    by_hand = page.context["plan"]["route"]["by_hand"]
    # The strip, and the corners that eight feet do not turn in.
    assert by_hand["stops"][6]["area"]["value"] == pytest.approx(320, rel=0.1)
    assert by_hand["stops"][6]["load"] == len(by_hand["loads"])
    text = page.content.decode()
    assert 'data-figure="route.by_hand.loads[0].add"' in text
    assert "never the machine’s" in text
    assert "By hand: " in text


def test_the_loads_by_hand_are_in_the_exported_request_and_in_what_is_taken(
    signed_in: Client, with_strip: Day
) -> None:
    question = with_strip.question(hand_tool=hand_tool_of(with_strip).pk)

    plan = answer(json.loads(signed_in.get(reverse("export_loads"), question).content))

    assert plan == asked(signed_in, question)
    ((_, loaded),) = loaded_in(plan)
    loads = [*plan["route"]["loads"], *plan["route"]["by_hand"]["loads"]]
    measured = [load["products"][0]["amount_to_measure"]["value"] for load in loads]
    assert loaded.value == pytest.approx(sum(measured))


def test_without_a_hand_tool_the_strip_is_told(signed_in: Client, with_strip: Day) -> None:
    text = signed_in.get(reverse("loads"), with_strip.question()).content.decode()

    assert "Turf too narrow for the machine" in text
    assert "route.by_hand" not in text


def test_a_hand_tool_that_nobody_says_what_stays_in_is_refused(
    signed_in: Client, with_strip: Day
) -> None:
    tool = hand_tool_of(with_strip, unsprayable=[])

    page = signed_in.get(reverse("loads"), with_strip.question(hand_tool=tool.pk))

    assert page.status_code == 422
    assert "cannot be sprayed" in page.content.decode()


def asked(client: Client, question: dict[str, Any]) -> Any:
    page = client.get(reverse("loads"), question)
    assert page.status_code == 200, page.context["faults"]
    return page.context["plan"]


@pytest.fixture
def signed_in(client: Client, pennywhistle: Day) -> Client:
    client.force_login(pennywhistle.person)
    return client


def test_the_day_is_split_at_the_yard_with_the_measured_ounces(
    signed_in: Client, pennywhistle: Day
) -> None:
    plan = asked(signed_in, pennywhistle.question())

    first, second = plan["route"]["loads"]
    assert (first["stops"], second["stops"]) == ([1, 2, 3, 4], [5, 6, 7])
    assert first["tank"]["value"] == pytest.approx(118.0, rel=GALLONS)
    assert first["products"][0]["amount_to_measure"]["value"] == 71
    tap = plan["route"]["reload_points"][1]
    assert tap["reason"] == "an air gap or a backflow device would be needed"


def test_the_gauge_at_the_yard_gives_what_to_add(signed_in: Client, pennywhistle: Day) -> None:
    plan = asked(signed_in, pennywhistle.question(in_tank_0="9.0", in_tank_1="gal"))

    refill = plan["route"]["refill"]
    (load,) = refill["loads"]
    assert refill["measured_output"]["value"] == pytest.approx(1.896, rel=GALLONS)
    assert load["add"]["value"] == pytest.approx(95.99, rel=GALLONS)
    assert load["products"][0]["amount_to_measure"]["value"] == 61
    assert load["products"][0]["rate_after_rounding"]["value"] == pytest.approx(1.199, rel=GALLONS)
    assert refill["naive"]["products"][0]["rate"]["value"] == pytest.approx(1.145, rel=GALLONS)
    assert refill["naive"]["left"]["value"] == pytest.approx(14.6, abs=0.3)
    assert plan["route"]["leftover"]["place"] == "Stop 7"


def test_the_page_says_the_amounts_the_warning_and_what_not_to_do(
    signed_in: Client, pennywhistle: Day
) -> None:
    question = pennywhistle.question(in_tank_0="9.0", in_tank_1="gal")

    text = signed_in.get(reverse("loads"), question).content.decode()

    assert 'data-figure="route.refill.loads[0].products[0].amount_to_measure"' in text
    assert "Check before you go on" in text
    assert "Not like this" in text
    assert "must stand in the record of Stop 7" in text
    # Two recipes for one load must not stand side by side.
    overtaken = text[text.index('<details class="day-overtaken">') :]
    assert "Load 2 as it was planned: the gauge says otherwise" in overtaken
    assert 'data-figure="route.loads[0].add"' not in overtaken
    assert 'data-figure="route.loads[1].add"' in overtaken[: overtaken.index("At the refill</h2>")]


def test_the_page_and_the_exported_request_give_the_same_plan(
    signed_in: Client, pennywhistle: Day
) -> None:
    question = pennywhistle.question(in_tank_0="9.0", in_tank_1="gal")

    exported = signed_in.get(reverse("export_loads"), question)

    assert exported["Content-Type"] == "application/json"
    assert answer(json.loads(exported.content)) == asked(signed_in, question)


def test_a_day_in_metric_units_is_the_same_day(signed_in: Client, pennywhistle: Day) -> None:
    Person.objects.filter(pk=pennywhistle.person.pk).update(units="metric")

    plan = asked(signed_in, pennywhistle.question())

    assert plan["route"]["loads"][0]["tank"]["unit"] == "L"
    assert plan["route"]["loads"][0]["tank"]["value"] == pytest.approx(118 * 3.7854, rel=GALLONS)


def test_readings_at_every_lawn_name_the_lawn_that_is_off(
    signed_in: Client, pennywhistle: Day
) -> None:
    # Lawn 2 used 10.8 gal instead of 16.8; the others as planned.
    readings = {
        f"gauge_{row}_{box}": value
        for row, gallons in enumerate(("95.6", "84.8", "53.6", "9.0"), start=1)
        for box, value in enumerate((gallons, "gal"))
    }

    plan = asked(signed_in, pennywhistle.question(**readings))

    assert plan["route"]["gauge"]["points_to"] == "area"
    assert plan["route"]["gauge"]["stop"] == 2


def test_weight_wind_the_next_day_and_another_start_reach_the_plan(
    signed_in: Client, pennywhistle: Day
) -> None:
    name = f"put_in_{pennywhistle.mix.parts.get().product_id}"
    question = pennywhistle.question(
        weight_limit_0="1500",
        weight_limit_1="lb",
        next_lawn=pennywhistle.places[0].pk,
        wind_speed_0="6",
        wind_speed_1="mph",
        wind_from="NW",
        in_tank_0="9.0",
        in_tank_1="gal",
        started_with_0="120",
        started_with_1="gal",
        **{f"{name}_0": "72", f"{name}_1": "fl oz"},
    )

    plan = asked(signed_in, question)

    assert plan["route"]["fill_limit"]["value"] == pytest.approx(1500 / 8.34, rel=1e-9)
    assert plan["route"]["refill"]["started_with"]["value"] == pytest.approx(120)
    assert plan["route"]["refill"]["products"][0]["put_in"]["value"] == pytest.approx(72)
    assert any(not lawn["today"] for lawn in plan["route"]["leftover"]["lawns"])


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"in_tank_0": "much", "in_tank_1": "gal"}, "in_tank", "does not begin with a number"),
        ({"in_tank_0": "-3", "in_tank_1": "gal"}, "in_tank", "less than nothing"),
        ({"started_with_0": "118", "started_with_1": "gal"}, "in_tank", "what the gauge shows too"),
        ({"leg_1": "999999"}, "leg_1", "valid choice"),
        ({"wind_from": "up"}, "wind_from", "valid choice"),
        ({"after_load": "0"}, "after_load", "greater than or equal to 1"),
    ],
)
def test_a_fault_stands_beside_its_field_and_nothing_typed_is_lost(
    signed_in: Client, pennywhistle: Day, changes: dict[str, str], field: str, words: str
) -> None:
    page = signed_in.get(reverse("loads"), pennywhistle.question(**changes))

    assert page.status_code == 422
    assert words in str(page.context["form"].errors[field])
    assert f'<option value="{pennywhistle.places[6].pk}" selected>' in page.content.decode()


def test_an_amount_of_the_wrong_kind_is_told(signed_in: Client, pennywhistle: Day) -> None:
    name = f"put_in_{pennywhistle.mix.parts.get().product_id}"

    page = signed_in.get(
        reverse("loads"),
        pennywhistle.question(
            **{"in_tank_0": "9", "in_tank_1": "gal", f"{name}_0": "3", f"{name}_1": "oz wt"}
        ),
    )

    assert page.status_code == 422
    assert "is measured as a volume" in str(page.context["form"].errors[name])


def test_a_day_without_a_lawn_asks_for_the_first(signed_in: Client, pennywhistle: Day) -> None:
    page = signed_in.get(
        reverse("loads"), {"machine": pennywhistle.machine.pk, "mix": pennywhistle.mix.pk}
    )

    assert page.status_code == 422
    assert "Choose the first lawn" in str(page.context["form"].errors["leg_1"])


def test_more_rows_are_given_with_what_was_chosen(signed_in: Client, pennywhistle: Day) -> None:
    page = signed_in.get(reverse("loads"), pennywhistle.question(rows="25"))

    assert page.status_code == 200
    assert "plan" not in page.context
    assert len(page.context["form"].legs()) == 25
    assert page.context["form"].errors == {}


def test_a_machine_whose_remainder_nobody_measured_is_refused_with_what_to_do(
    signed_in: Client, pennywhistle: Day
) -> None:
    keep_machine(pennywhistle.machine, capacities=[Quantity(200.0, "gal")])

    page = signed_in.get(reverse("loads"), pennywhistle.question())

    assert page.status_code == 422
    assert "spray until it sputters" in page.content.decode()


def test_a_question_with_faults_is_not_exported(signed_in: Client, pennywhistle: Day) -> None:
    answered = signed_in.get(reverse("export_loads"), pennywhistle.question(leg_1="999999"))

    assert answered.status_code == 422
    assert "valid choice" in answered.content.decode()


def test_a_machine_without_a_calibration_is_refused(
    signed_in: Client, pennywhistle: Day, owner: Person
) -> None:
    raw = keep_machine(
        Machine(firm=owner.firm, name="New gun", kind="hand_gun", swath=Quantity(5.0, "ft")),
        capacities=[Quantity(100.0, "gal")],
    )

    page = signed_in.get(reverse("loads"), pennywhistle.question(machine=raw.pk))

    assert page.status_code == 422
    assert "no calibration" in page.content.decode()


def test_a_route_that_does_not_fit_says_where_a_reload_is_missing(
    signed_in: Client, pennywhistle: Day
) -> None:
    page = signed_in.get(reverse("loads"), pennywhistle.question(leg_5="bare_tap"))

    assert page.status_code == 200
    assert "A reload point is missing before Stop 6 at the latest" in page.content.decode()


def test_a_lawn_chosen_twice_is_come_to_in_two_equal_parts(
    signed_in: Client, pennywhistle: Day
) -> None:
    large = pennywhistle.places[3].pk
    question = {
        "machine": pennywhistle.machine.pk,
        "mix": pennywhistle.mix.pk,
        "leg_1": large,
        "leg_2": "yard",
        "leg_3": large,
    }

    plan = asked(signed_in, question)

    stops = plan["route"]["stops"]
    assert [stop["name"] for stop in stops] == ["Stop 4, part 1 of 2", "Stop 4, part 2 of 2"]
    areas = [stop["area"]["value"] for stop in stops]
    assert areas == pytest.approx([11_150, 11_150], rel=0.002)


def test_what_belongs_to_another_firm_cannot_be_chosen(
    client: Client, pennywhistle: Day, stranger: Person
) -> None:
    client.force_login(stranger)

    page = client.get(reverse("loads"), pennywhistle.question())

    assert page.status_code == 422
    assert {"machine", "mix", "leg_1"} <= page.context["form"].errors.keys()


def test_before_there_is_anything_the_page_says_what_is_needed(
    client: Client, owner: Person
) -> None:
    client.force_login(owner)

    assert "are needed first" in client.get(reverse("loads")).content.decode()


def test_what_a_lawn_has_had_this_year_refuses_the_day_by_its_name(
    signed_in: Client, pennywhistle: Day
) -> None:
    place, product = pennywhistle.places[2], pennywhistle.mix.parts.get().product
    Product.objects.filter(pk=product.pk).update(per_year=Quantity(2.3, "fl oz/1000 sq ft"))
    today = timezone.now()
    record_application(
        place,
        product=product,
        rate=Quantity(1.2, "fl oz/1000 sq ft"),
        applied_on=today.date(),
        refs=["lawn"],
        entered=Entered(pennywhistle.person, today),
    )

    plan = asked(signed_in, pennywhistle.question())

    # 1.1 fl oz/1,000 sq ft are left there, and 1.2 are asked for.
    refused = [each["message"] for each in plan["refusals"]]
    assert any(words.startswith("Stop 3: ") and "1.1 fl oz" in words for words in refused)


def test_a_limit_on_nutrients_holds_on_every_lawn_of_the_day(
    signed_in: Client, pennywhistle: Day
) -> None:
    part = pennywhistle.mix.parts.get()
    Product.objects.filter(pk=part.product_id).update(
        formulation="liquid fertilizer",
        grade="30-0-0",
        slow_release=Quantity(0.0, "%"),
        density=Quantity(10.0, "lb/gal"),
    )
    NutrientLimit.objects.create(
        firm=pennywhistle.person.firm,
        nutrient="N",
        per="application",
        at_most=Quantity(0.1, "g/m2"),
        source="Invented rule",
        from_on=date(2020, 1, 1),
        only_at=pennywhistle.places[2],
    )

    plan = asked(signed_in, pennywhistle.question())

    assert "nutrient_over_limit" in [each["code"] for each in plan["refusals"]]


@pytest.mark.parametrize("box", ["in_tank", "started_with"])
def test_more_than_the_tank_holds_is_told_beside_the_reading(
    signed_in: Client, pennywhistle: Day, box: str
) -> None:
    reading = {"in_tank_0": "9", "in_tank_1": "gal", f"{box}_0": "900", f"{box}_1": "gal"}

    page = signed_in.get(reverse("loads"), pennywhistle.question(**reading))

    assert page.status_code == 422
    (said,) = page.context["form"].errors[box]
    assert "900 gal is more than the tank holds (200 gal)" in said


def test_the_loads_are_taken_from_the_stock_once(signed_in: Client, pennywhistle: Day) -> None:
    product = Product.objects.get(mix_parts__mix=pennywhistle.question()["mix"])
    jug = keep_container(Container(product=product, size=Quantity(2.5, "gal")))
    act = Act(pennywhistle.person, date(2026, 1, 5), timezone.now())
    buy(Purchase(jug, 1, "P-1"), store=first_store(product.firm), act=act)
    address = f"{reverse('take_loads')}?{urlencode(pennywhistle.question())}"
    measured = sum(
        load["products"][0]["amount_to_measure"]["value"]
        for load in asked(signed_in, pennywhistle.question())["route"]["loads"]
    )

    for _ in range(2):
        assert signed_in.post(address).status_code == 302

    loaded = Movement.objects.filter(entry__kind="loaded")
    assert sum(line.amount.to("fl oz").value for line in loaded) == pytest.approx(-measured)
    signed_in.post(address, {"further": "on"})
    assert sum(line.amount.to("fl oz").value for line in loaded.all()) == pytest.approx(
        -2 * measured
    )
