"""What nutrients a plan puts down, and what limits them, with a spreader or a sprayer."""

import pytest

from tests.planner.core.asking import HERBICIDE, asking, with_output
from tests.planner.core.feeding_park import (
    FEED,
    LIQUID,
    Json,
    had,
    n_of,
    planned,
    refusals,
    warnings,
    with_history,
    year_of,
)
from tests.planner.core.scenarios import RUSHMERE


def test_an_example_limit_is_told_as_one() -> None:
    limits = [RUSHMERE["nutrient_limits"][0] | {"example": True}]

    assert "nutrient_limit_example" in warnings(RUSHMERE | {"nutrient_limits": limits})


def test_a_year_that_nobody_told_refuses_the_plan() -> None:
    request = {name: value for name, value in RUSHMERE.items() if name != "nutrients_so_far"}

    assert "unknown is not" in refusals(request)["nutrient_so_far_unknown"]


def test_a_slow_share_that_nobody_copied_refuses_the_plan() -> None:
    feed = FEED | {"fertilizer": {"grade": "18-3-9"}}

    assert "slow release" in refusals(RUSHMERE | {"mix": [feed]})["slow_release_unknown"]


def test_a_year_that_is_used_up_leaves_nothing() -> None:
    found = refusals(RUSHMERE | {"nutrients_so_far": {"N": "12 g/m2"}})

    assert "No N may go down" in found["nutrient_over_limit"]
    assert "of this year" in found["nutrient_over_limit"]


def test_what_limits_nothing_that_is_put_down_is_not_compared() -> None:
    feed = {name: value for name, value in FEED.items() if name != "fertilizer"}
    del feed["nutrient_target"]

    plan = planned(RUSHMERE | {"mix": [feed | {"rate": "20 g/m2"}]})

    assert "nutrients" not in plan
    assert plan["spread"]["bags"] is None


# M. Woods, Calculating how much of an element is applied in a liquid fertilizer, 19 March 2015:
# 6 fl oz of 10.68 lb/gal with 4 % N are 0.02 lb of N per 1,000 sq ft.
def test_a_sprayed_fertilizer_counts_by_its_density() -> None:
    assert n_of(planned(asking(mix=[LIQUID]))) == pytest.approx(0.0200, abs=5e-5)


def test_a_target_of_nitrogen_gives_the_volume_of_a_liquid() -> None:
    target = {name: value for name, value in LIQUID.items() if name != "rate"}

    plan = planned(asking(mix=[target | {"nutrient_target": {"N": "0.02 lb/1000 sq ft"}}]))

    assert plan["products"][0]["rate_used"]["unit"] == "fl oz/1000 sq ft"
    assert plan["products"][0]["rate_used"]["value"] == pytest.approx(6.0, abs=0.01)


def test_all_fertilizers_of_a_mix_count_together() -> None:
    other = LIQUID | {"name": "Invented second feed"}
    limit = {"nutrient": "N", "per": "application", "at_most": "0.03 lb/1000 sq ft",
             "source": "Invented council"}  # fmt: skip

    found = refusals(asking(mix=[LIQUID, other, HERBICIDE], nutrient_limits=[limit]))

    assert "Invented liquid feed and Invented second feed" in found["nutrient_over_limit"]
    assert "Lower the rates" in found["nutrient_over_limit"]


def test_a_fertilizer_by_volume_of_spray_follows_the_output_of_each_tool() -> None:
    by_spray = LIQUID | {"rate": "1 fl oz/gal", "label": {"density": "10.68 lb/gal"}}
    machine = with_output("2 gal/1000 sq ft")

    plan = planned(asking(mix=[by_spray], machine=machine))

    assert n_of(plan) == pytest.approx(2 / 128 * 10.68 * 0.04)


def test_the_fullest_spot_decides_what_the_ground_has_had() -> None:
    # 20 g/m² of 18 % on the west, 15 on the middle of both: 6.3 where they overlap.
    yearly = year_of(with_history(had(0, 35, "20 g/m2"), had(30, 50, "15 g/m2")))

    assert yearly["so_far"]["value"] == pytest.approx(6.3)
    assert yearly["total"]["value"] == pytest.approx(6.3 + 3.636)


@pytest.mark.parametrize(
    "application",
    [had(0, 35, "20 g/m2", on="2025-12-31"), had(100, 120, "20 g/m2")],
    ids=["another year", "other ground"],
)
def test_what_does_not_count_is_nothing(application: Json) -> None:
    assert year_of(with_history(application))["so_far"]["value"] == 0


def test_a_place_that_has_had_nothing_has_all_its_room() -> None:
    assert year_of(with_history())["so_far"]["value"] == 0


@pytest.mark.parametrize(("since", "so_far"), [("2026-01-01", 0.0), ("2026-01-02", None)])
def test_a_year_that_is_known_in_part_is_not_known(since: str, so_far: float | None) -> None:
    yearly = year_of(with_history() | {"history_since": since})

    assert (yearly["so_far"] and yearly["so_far"]["value"]) == so_far


def test_what_was_told_beats_the_history() -> None:
    request = with_history(had(0, 35, "20 g/m2")) | {"nutrients_so_far": {"N": "7.8 g/m2"}}

    assert year_of(request)["so_far"]["value"] == pytest.approx(7.8)


OTHER = {"product": "Another product (invented)"}


@pytest.mark.parametrize(
    ("told", "so_far"),
    [
        ({}, None),
        ({"active_ingredients": []}, 0.0),
        ({"fertilizer": False}, 0.0),
        ({"fertilizer": {"grade": "10-0-0"}}, 2.0),
        ({"fertilizer": {"grade": "10-0-0"}, "rate": "20 mL/m2", "density": "1.2 kg/L"}, 2.4),
        ({"fertilizer": {"grade": "10-0-0"}, "rate": "20 mL/m2"}, None),
    ],
)
def test_nitrogen_of_another_product_counts_if_anybody_knows_it(
    told: Json, so_far: float | None
) -> None:
    yearly = year_of(with_history(had(0, 35, "20 g/m2") | OTHER | told))

    if so_far is None:
        assert yearly["so_far"] is None
    else:
        assert yearly["so_far"]["value"] == pytest.approx(so_far)


@pytest.mark.parametrize(
    ("limits", "told"), [(RUSHMERE["nutrient_limits"], True), ([], False)], ids=["some", "none"]
)
def test_a_granule_without_a_grade_is_told_where_nutrients_are_limited(
    limits: list[Json], told: bool
) -> None:
    granule = {"name": FEED["name"], "rate": "20 g/m2", "formulation": "G"}

    found = warnings(RUSHMERE | {"nutrient_limits": limits, "mix": [granule]})

    assert ("nutrients_unknown" in found) is told


def test_ammonium_sulfate_without_a_grade_is_told_where_nutrients_are_limited() -> None:
    conditioner = {"name": "Invented AMS", "rate": "17 lb/100 gal"}
    mix = [HERBICIDE, conditioner | {"formulation": "ammonium sulfate"}]

    found = warnings(asking(mix=mix, nutrient_limits=RUSHMERE["nutrient_limits"][:1]))

    assert "nutrients_unknown" in found


def test_a_past_feed_of_unknown_slow_release_leaves_its_soluble_nitrogen_unknown() -> None:
    limit = RUSHMERE["nutrient_limits"][2] | {"nutrient": "soluble N"}
    fed = had(0, 35, "20 g/m2") | OTHER | {"fertilizer": {"grade": "10-0-0"}}

    plan = planned(with_history(fed) | {"nutrient_limits": [limit]})

    assert plan["nutrient_limits"][0]["so_far"] is None
    assert "nutrient_so_far_unknown" in refusals(with_history(fed) | {"nutrient_limits": [limit]})


N_AT_ONCE = {"nutrient": "N", "per": "application", "at_most": "3 g/m2", "source": "Invented law"}


def test_a_month_counts_what_the_ground_has_had_in_it() -> None:
    monthly = N_AT_ONCE | {"per": "month", "at_most": "4 g/m2"}
    # 4 g of 18 % are 0.72, and 3.636 more are too much; those of August do not count.
    fed = (had(0, 35, "4 g/m2", on="2026-09-01"), had(0, 35, "9 g/m2", on="2026-08-31"))

    found = planned(with_history(*fed) | {"nutrient_limits": [monthly]})

    assert found["nutrient_limits"][0]["so_far"]["value"] == pytest.approx(0.72)
    (refusal,) = [each for each in found["refusals"] if each["code"] == "nutrient_over_limit"]
    assert "of this month that makes" in refusal["message"]
    assert "4 g/m2 per month (Invented law)" in refusal["message"]


@pytest.mark.parametrize(
    ("told", "codes"), [("0.2 g/m2", []), ("0.5 g/m2", ["over"]), (None, ["unknown"])]
)
def test_thirty_days_are_told_or_unknown(told: str | None, codes: list[str]) -> None:
    limit = N_AT_ONCE | {"per": "30 days", "at_most": "4 g/m2"}
    lately = {} if told is None else {"nutrients_lately": {"30 days": {"N": told}}}

    found = refusals(RUSHMERE | {"nutrient_limits": [limit]} | lately)

    names = {"over": "nutrient_over_limit", "unknown": "nutrient_so_far_unknown"}
    assert [each for each in found if each.startswith("nutrient")] == [names[c] for c in codes]
    assert all("within 30 days" in found[names[code]] for code in codes)


@pytest.mark.parametrize(
    ("slow", "least", "code"),
    [
        ("40 %", "40 %", None),
        ("40 %", "41 %", "nutrient_over_limit"),
        (None, "20 %", "slow_release_unknown"),
    ],
)
def test_slow_release_lifts_a_limit_or_the_plan_says_how_much_would(
    slow: str | None, least: str, code: str | None
) -> None:
    grade: Json = {"grade": "18-3-9"} | ({} if slow is None else {"slow_release": slow})
    request = RUSHMERE | {
        "mix": [FEED | {"fertilizer": grade}],
        "nutrient_limits": [N_AT_ONCE | {"least_slow_release": least}],
    }

    found = refusals(request)

    assert [each for each in found if "spread" not in each] == ([code] if code else [])
    if code == "nutrient_over_limit":
        assert f"at least {least} of the nitrogen is slow release, and here 40 % is" in found[code]
        assert "or less" in found[code]
    row = planned(request)["nutrient_limits"][0]
    assert row["lifted_by_slow_release"] is (code is None)
    assert (row["slow_release"] is None) is (slow is None)


def test_granules_that_slow_release_allows_are_weighed_out() -> None:
    rule = N_AT_ONCE | {"at_most": "0 g/m2", "least_slow_release": "40 %"}

    plan = planned(RUSHMERE | {"nutrient_limits": [rule]})

    assert all(each["amount_to_measure"] for each in plan["spread"]["passes"])
