"""A label in full: entered, compared by somebody else, used, and every version of it."""

import pytest
from django.test import Client
from django.urls import reverse

from planner.models import KeptPlan, LabelLine, Mix, Product
from planner.selectors.labels import label_as_asked
from planner.services.labels import keep_label
from planner.services.mixes import keep_mix
from properties.core.units import Quantity
from properties.models import Firm, Person
from tests.work import DONE_AT

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


def test_every_change_is_a_version_that_says_what_changed(
    client: Client, office: Person, owner: Person
) -> None:
    product = entered(client, office)
    client.force_login(owner)
    client.post(reverse("edit_label", args=[product.pk]), TYPED | {"rain_fast_0": "8"})
    client.post(
        reverse("edit_label", args=[product.pk]), TYPED | {"rain_fast_0": "", "keep_off_0": "5"}
    )

    page = client.get(product.get_absolute_url()).content.decode()

    versions = list(product.versions.all())
    assert [(one.number, one.entered_by) for one in versions] == [
        (3, owner),
        (2, owner),
        (1, office),
    ]
    assert versions[-1].facts["rain_fast"] == "6 h"
    assert "rain fast: was 6 h, now 8 h" in page
    assert "rain fast: was 8 h, not given now" in page
    assert "keep off: was 4 h, now 5 h" in page


def test_a_second_person_confirms_a_label_and_a_change_asks_for_it_again(
    client: Client, office: Person, crew: Person
) -> None:
    product = entered(client, office)
    address = reverse("check_label", args=[product.pk])

    own = client.post(address, {"version": "1"})
    client.force_login(crew)
    other = client.post(address, {"version": "1"}, follow=True)

    assert own.status_code == 422
    assert "You entered this label yourself" in own.content.decode()
    assert b"compared by Quill" in other.content
    assert product.versions.get().checked_by == crew

    client.force_login(office)
    client.post(reverse("edit_label", args=[product.pk]), TYPED | {"rain_fast_0": "8"})
    client.force_login(crew)
    stale = client.post(address, {"version": "1"})
    assert stale.status_code == 422
    assert "changed meanwhile" in stale.content.decode()
    assert product.versions.get(number=2).checked_at is None


def test_a_strangers_label_cannot_be_confirmed(
    client: Client, stranger: Person, product: Product
) -> None:
    client.force_login(stranger)

    assert client.post(reverse("check_label", args=[product.pk])).status_code == 404


@pytest.mark.parametrize("number", ["", "2", "one", "-1"])
def test_a_version_that_does_not_exist_cannot_be_confirmed(
    client: Client, crew: Person, product: Product, number: str
) -> None:
    client.force_login(crew)

    answer = client.post(reverse("check_label", args=[product.pk]), {"version": number})

    assert answer.status_code == 404


def test_a_firm_can_ask_for_a_second_look_before_anything_is_planned(
    client: Client, owner: Person, office: Person, kept_plan: KeptPlan, firm: Firm
) -> None:
    client.force_login(owner)
    question = f"{reverse('plan', args=[kept_plan.property.pk])}?{kept_plan.question}"
    facts = {"name": firm.name, "units": firm.units}
    before = client.get(question)

    client.post(reverse("edit_firm"), facts | {"labels_need_check": "on"})
    refused = client.get(question)

    assert (before.status_code, refused.status_code) == (200, 422)
    assert "Olive and nobody else has compared it yet" in refused.content.decode()
    client.force_login(office)
    for product in Product.objects.all():
        client.post(reverse("check_label", args=[product.pk]), {"version": "1"})
    assert client.get(question).status_code == 200


def test_somebody_who_works_alone_cannot_ask_for_a_second_look(
    client: Client, stranger: Person
) -> None:
    client.force_login(stranger)
    facts = {"name": "Fernbrake Lawns", "units": "metric", "labels_need_check": "on"}

    answer = client.post(reverse("edit_firm"), facts)

    assert answer.status_code == 422
    assert "Nobody else" in answer.context["form"].errors["labels_need_check"][0]
    stranger.firm.refresh_from_db()
    assert not stranger.firm.labels_need_check


def lined(firm: Firm, owner: Person) -> tuple[Product, LabelLine, LabelLine]:
    product = keep_label(
        Product(firm=firm, name="Invented two-way", entered_by=owner, entered_at=DONE_AT),
        setbacks={},
        lines=[
            LabelLine(position=1, target="Small weeds", rate_max=Quantity(1.2, "fl oz/1000 sq ft")),
            LabelLine(position=2, target="One weed", use="spot", rate_max=Quantity(2.0, "%")),
        ],
    )
    small, spot = product.lines.all()
    return product, small, spot


def mixing(product: Product, line: LabelLine, number: str, unit: str) -> dict[str, str]:
    return {
        "name": "Trial",
        "product_1": str(product.pk),
        "line_1": str(line.pk),
        "rate_1_0": number,
        "rate_1_1": unit,
    }


@pytest.mark.parametrize(
    ("number", "words"),
    [
        ("1.3", "highest 1.2 fl oz"),
        # 52 fl oz/acre typed as if for 1,000 sq ft.
        ("52", "for which area is its number"),
    ],
)
def test_a_rate_is_compared_with_the_line_of_the_label_it_is_used_by(
    client: Client, firm: Firm, owner: Person, number: str, words: str
) -> None:
    product, small, _ = lined(firm, owner)
    client.force_login(owner)

    answer = client.post(reverse("new_mix"), mixing(product, small, number, "fl oz/1000 sq ft"))

    assert answer.status_code == 422
    assert words in answer.context["form"].errors["rate_1"][0]


def test_the_plan_asks_with_the_line_and_the_line_cannot_go_while_a_mix_uses_it(
    client: Client, firm: Firm, owner: Person
) -> None:
    product, small, _ = lined(firm, owner)
    client.force_login(owner)
    client.post(reverse("new_mix"), mixing(product, small, "1.1", "fl oz/1000 sq ft"))

    (part,) = Mix.objects.get().parts.all()
    answer = client.post(
        reverse("edit_label", args=[product.pk]),
        {"name": product.name, "line_2_target": "One weed"},
    )

    assert label_as_asked(product, part.line) == {
        "use": "broadcast",
        "rate_max": "1.2 fl oz/1000 sq ft",
    }
    assert answer.status_code == 422
    assert "The mix Trial uses this line" in answer.context["form"].errors["line_1_target"][0]


def test_spots_and_the_whole_turf_cannot_share_a_tank(
    client: Client, firm: Firm, owner: Person, product: Product
) -> None:
    two_way, small, spot = lined(firm, owner)
    other = LabelLine.objects.create(product=product, position=1, target="Any", use="broadcast")
    client.force_login(owner)
    typed = mixing(two_way, spot, "1", "%") | {
        "product_2": str(product.pk),
        "rate_2_0": "0.8",
        "rate_2_1": "fl oz/1000 sq ft",
    }

    mixed = client.post(reverse("new_mix"), typed | {"line_2": str(other.pk)})
    wrong = client.post(reverse("new_mix"), typed | {"line_2": str(small.pk)})

    assert "cannot share a tank" in mixed.context["form"].errors["line_2"][0]
    assert "another product" in wrong.context["form"].errors["line_2"][0]


def test_an_amount_for_each_plant_is_no_rate_for_turf(
    client: Client, firm: Firm, owner: Person
) -> None:
    product, _, spot = lined(firm, owner)
    LabelLine.objects.filter(pk=spot.pk).update(use="per_plant", rate_max=None)
    client.force_login(owner)

    answer = client.post(reverse("new_mix"), mixing(product, spot, "1", "%"))

    assert "for each plant" in answer.context["form"].errors["line_1"][0]


def test_ounces_by_weight_typed_for_fluid_ounces_are_named(
    client: Client, owner: Person, product: Product
) -> None:
    client.force_login(owner)
    typed = {"name": "E", "product_1": str(product.pk), "rate_1_0": "0.8"}

    answer = client.post(reverse("new_mix"), typed | {"rate_1_1": "oz wt/1000 sq ft"})

    assert "no fluid ounce" in answer.context["form"].errors["rate_1"][0]


def test_the_order_of_a_label_is_kept_with_the_mix(
    client: Client, owner: Person, product: Product
) -> None:
    client.force_login(owner)
    typed = {
        "name": "As the label says",
        "product_1": str(product.pk),
        "rate_1_0": "0.8",
        "rate_1_1": "fl oz/1000 sq ft",
        "order_is_from_label": "on",
    }

    client.post(reverse("new_mix"), typed)

    assert Mix.objects.get().order_is_from_label


def test_a_mix_is_kept_without_lines_too(firm: Firm, product: Product) -> None:
    mix = keep_mix(
        Mix(firm=firm, name="Plain"), parts=[(product, Quantity(0.7, "fl oz/1000 sq ft"))]
    )

    assert mix.parts.get().line is None
