"""A label in full: entered, compared by somebody else, used, and every version of it."""

import pytest
from django.test import Client
from django.urls import reverse

from planner.models import Product
from planner.selectors.labels import label_as_asked
from properties.core.units import Quantity
from properties.models import Person

#: An invented label, as somebody types it.
TYPED = {
    "name": "Invented selective herbicide",
    "registration_number": "INVENTED-9",
    "formulation": "SL",
    "signal_word": "caution",
    "density_0": "9.2",
    "density_1": "lb/gal",
    "rate_min_0": "1.0",
    "rate_min_1": "fl oz/1000 sq ft",
    "rate_max_0": "65",
    "rate_max_1": "fl oz/acre",
    "ingredient_1_name": "Invented acid",
    "ingredient_1_content_0": "4",
    "ingredient_1_content_1": "lb/gal",
    "ingredient_1_acid_equivalent_0": "3.3",
    "ingredient_1_acid_equivalent_1": "lb/gal",
    "ingredient_1_per_year_0": "4",
    "ingredient_1_per_year_1": "lb/acre",
    "line_1_target": "Small weeds",
    "line_1_turf": "tall_fescue",
    "line_1_use": "broadcast",
    "line_1_rate_min_0": "1.0",
    "line_1_rate_min_1": "fl oz/1000 sq ft",
    "line_1_rate_max_0": "1.2",
    "line_1_rate_max_1": "fl oz/1000 sq ft",
    "line_2_target": "Single weeds",
    "line_2_use": "per_plant",
    "line_2_rate_max_0": "0.5",
    "line_2_rate_max_1": "fl oz",
    "finest_droplets": "medium",
    "coarsest_droplets": "very_coarse",
    "wind_min_0": "3",
    "wind_min_1": "mph",
    "wind_max_0": "10",
    "wind_max_1": "mph",
    "temperature_min_0": "-5",
    "temperature_min_1": "deg C",
    "temperature_max_0": "85",
    "temperature_max_1": "deg F",
    "rain_fast_0": "6",
    "rain_fast_1": "h",
    "water_in_within_0": "1",
    "water_in_within_1": "day",
    "irrigation_hold_0": "24",
    "irrigation_hold_1": "h",
    "protection": "Gloves and long sleeves, invented",
    "keep_off_0": "4",
    "keep_off_1": "h",
    "until_dry": "on",
    "per_year_0": "3",
    "per_year_1": "fl oz/1000 sq ft",
    "year": "season",
    "season_from": "03-01",
    "uses_per_year": "2",
    "interval_0": "30",
    "interval_1": "day",
    "seeding_after_0": "28",
    "seeding_after_1": "day",
    "tolerance_tall_fescue": "tolerates",
    "tolerance_fine_fescue": "forbidden",
    "adjuvant_1": "required",
    "from_pond_0": "25",
    "from_pond_1": "ft",
    "downwind_pond_0": "50",
    "downwind_pond_1": "ft",
    "method_1_kind": "pond",
    "method_1_method": "hand_gun",
    "method_1_distance_0": "10",
    "method_1_distance_1": "ft",
    "is_invented": "on",
}


def entered(client: Client, person: Person, **changed: str) -> Product:
    client.force_login(person)
    answer = client.post(reverse("new_label"), TYPED | changed)
    assert answer.status_code == 302, answer.context["form"].errors
    return Product.objects.get(name=TYPED["name"])


def test_everything_that_was_typed_stands_in_the_plan_request(
    client: Client, office: Person
) -> None:
    product = entered(client, office)

    assert label_as_asked(product) == {
        "rate_min": "1 fl oz/1000 sq ft",
        "rate_max": "65 fl oz/acre",
        "wind_min": "3 mph",
        "wind_max": "10 mph",
        "temperature_min": "-5 deg C",
        "temperature_max": "85 deg F",
        "rain_fast": "6 h",
        "irrigation_hold": "24 h",
        "keep_off": "4 h",
        "density": "9.2 lb/gal",
        "registration_number": "INVENTED-9",
        "signal_word": "caution",
        "finest_droplets": "medium",
        "coarsest_droplets": "very_coarse",
        "protection": "Gloves and long sleeves, invented",
        "tolerance": {"tall_fescue": "tolerates", "fine_fescue": "forbidden"},
        "adjuvants": {"ammonium sulfate": "required"},
        "active_ingredients": [
            {
                "name": "Invented acid",
                "content": "4 lb/gal",
                "acid_equivalent": "3.3 lb/gal",
                "per_year": "4 lb/acre",
            }
        ],
        "until_dry": True,
        "water_in": {"within": "1 day"},
        "seeding": {"after": "28 day"},
        "limits": {
            "per_year": "3 fl oz/1000 sq ft",
            "uses_per_year": 2,
            "interval": "30 day",
            "year": "season",
            "season_from": "03-01",
        },
        "setbacks": {"pond": {"distance": "25 ft", "downwind": "50 ft", "hand_gun": "10 ft"}},
    }


def test_a_label_comes_back_to_its_form_as_it_was_typed(client: Client, office: Person) -> None:
    product = entered(client, office)
    form = client.get(reverse("edit_label", args=[product.pk])).context["form"]

    again: dict[str, str] = {}
    for field in form:
        value = field.value()
        if isinstance(value, Quantity):
            again |= {f"{field.name}_0": f"{value.value:g}", f"{field.name}_1": value.unit}
        elif isinstance(value, bool):
            again |= {field.name: "on"} if value else {}
        elif not isinstance(value, list) and value is not None:
            again[field.name] = str(value)
    client.post(reverse("edit_label", args=[product.pk]), again)

    # Nothing changed, so there is no second version.
    assert [version.number for version in product.versions.all()] == [1]


@pytest.mark.parametrize(
    ("changed", "field", "words"),
    [
        ({"rate_max_1": "fl oz/1000 sq ft"}, "rate_max", "65 times the lowest"),
        ({"temperature_max_0": "-20"}, "temperature_max", "below the lowest"),
        ({"temperature_max_0": "185"}, "temperature_max", "cannot be right"),
        ({"wind_min_0": "12"}, "wind_max", "below the lowest"),
        ({"ingredient_1_content_0": ""}, "ingredient_1_content", "how much of it"),
        ({"ingredient_1_name": ""}, "ingredient_1_name", "what it is called"),
        ({"ingredient_1_content_0": "900"}, "ingredient_1_content", "cannot be right"),
        (
            {
                "ingredient_1_content_0": "60",
                "ingredient_1_content_1": "%",
                "ingredient_1_acid_equivalent_0": "",
                "ingredient_2_name": "Invented second",
                "ingredient_2_content_0": "50",
                "ingredient_2_content_1": "%",
            },
            "ingredient_2_content",
            "times the weight",
        ),
        (
            {"ingredient_1_acid_equivalent_1": "%"},
            "ingredient_1_acid_equivalent",
            "in the same measure",
        ),
        ({"season_from": "02-29"}, "season_from", "February 29"),
        ({"season_from": ""}, "season_from", "missing"),
        ({"per_year_1": "oz wt/1000 sq ft"}, "per_year", "cannot be compared"),
        ({"line_1_target": ""}, "line_1_target", "what this line is against"),
        ({"line_1_rate_max_0": "0.5"}, "line_1_rate_max", "below the lowest"),
        (
            {"line_1_rate_max_1": "fl oz", "line_1_rate_min_0": ""},
            "line_1_rate_max",
            "is not a rate",
        ),
        ({"line_2_rate_max_1": "%"}, "line_2_rate_max", "an amount for each plant"),
        ({"from_pond_0": ""}, "from_pond", "all round too"),
        ({"method_1_distance_0": ""}, "method_1_kind", "enter the distance"),
        ({"finest_droplets": "ultra_coarse"}, "finest_droplets", "coarser"),
        ({"density_0": "200"}, "density", "cannot be right"),
        (
            {"water_in_depth_0": "3", "water_in_depth_1": "cm", "interval_0": "0.5"},
            "interval",
            "whole",
        ),
        ({"keep_off_0": "9999", "keep_off_1": "day"}, "keep_off", "cannot be right"),
    ],
)
def test_a_slip_is_said_beside_its_field_and_nothing_is_lost(
    client: Client, office: Person, changed: dict[str, str], field: str, words: str
) -> None:
    client.force_login(office)

    answer = client.post(reverse("new_label"), TYPED | changed)

    assert answer.status_code == 422
    assert words in " ".join(answer.context["form"].errors[field])
    assert b"Gloves and long sleeves, invented" in answer.content
    assert not Product.objects.exists()


@pytest.mark.parametrize("row", ["rate_min", "line_1_rate_min"])
def test_a_lowest_rate_of_next_to_nothing_is_refused(
    client: Client, owner: Person, row: str
) -> None:
    client.force_login(owner)

    page = client.post(reverse("new_label"), TYPED | {f"{row}_0": "5e-324"})

    assert page.status_code == 422
    assert not Product.objects.exists()


def test_the_parts_of_a_label_say_what_is_filled_in_and_open_where_something_is_wrong(
    client: Client, owner: Person, product: Product
) -> None:
    client.force_login(owner)
    Product.objects.filter(pk=product.pk).update(temperature_max="85 deg F", bag=None)

    new = client.get(reverse("new_label")).context["form"].parts()
    kept = client.get(reverse("edit_label", args=[product.pk])).context["form"].parts()
    asked = {"name": "Invented other", "temperature_max_0": "hot", "temperature_max_1": "deg F"}
    refused = client.post(reverse("new_label"), asked).context["form"].parts()

    assert [name for name, part in new.items() if part.is_open] == ["product", "rates"]
    assert new["weather"].said == "nothing copied"
    assert not any(part.is_open for part in kept.values())
    assert "Hottest 85 °F" in kept["weather"].said
    assert (kept["fertilizer"].said, refused["weather"].said) == (
        "nothing copied",
        "one to look at",
    )
    assert refused["weather"].is_open
    assert not refused["people"].is_open
