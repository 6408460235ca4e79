"""Spots that are treated instead of all the turf: told, planned, and held against the label."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.core.answers import answer
from planner.core.put_down import put_down
from planner.core.request import read_request
from properties.core.errors import FaultsFound
from tests.planner.core.asking import HERBICIDE, asking, with_output
from tests.planner.core.workings.test_workings import by_hand

Json = dict[str, Any]
ADJUVANT = {"name": "Invented surfactant", "rate": "0.25 %", "formulation": "NIS"}


def of_spots(**label: Any) -> Json:
    return HERBICIDE | {"label": HERBICIDE["label"] | {"use": "spot"} | label}


def planned(spots: Json | None, *mix: Json, **changes: Any) -> Json:
    told = {} if spots is None else {"spots": spots}
    machine = with_output("1 gal/1000 sq ft", unsprayable="0 gal")
    return answer(asking(machine=machine, mix=list(mix or [of_spots()]), **told, **changes))


def codes(plan: Json) -> list[str]:
    return [each["code"] for each in plan["refusals"] if each["code"].startswith("spots")]


@pytest.mark.parametrize("spots", [{"area": "400 sq ft"}, {"share": "8 %"}])
def test_spray_and_product_are_for_the_spots_alone(spots: Json) -> None:
    # A lawn of 100 by 50 ft: 8 % are 400 sq ft, which take 0.4 gal. The lawn of the test
    # is within 0.1 % of these.
    plan = planned(spots)

    assert plan["treatable_area"]["value"] == pytest.approx(5000, rel=1e-3)
    assert plan["level_area"]["value"] == pytest.approx(400, rel=1e-3)
    assert plan["carrier_volume"]["value"] == pytest.approx(0.4, rel=1e-3)
    (product,) = plan["products"]
    assert product["amount"]["value"] == pytest.approx(
        0.4 * product["rate_used"]["value"], rel=1e-3
    )
    assert codes(plan) == []


@given(percent=st.integers(1, 100))
def test_the_rate_of_the_label_holds_on_the_spots_however_few(percent: int) -> None:
    plan = planned({"share": f"{percent} %"}, of_spots(), ADJUVANT)

    per_1000 = plan["level_area"]["value"] / 1000 if percent < 100 else 5.0
    herbicide, adjuvant = plan["products"]
    assert herbicide["amount"]["value"] / per_1000 == pytest.approx(
        herbicide["rate_used"]["value"], rel=1e-3
    )
    assert adjuvant["amount"]["value"] == pytest.approx(
        0.0025 * 128 * plan["carrier_volume"]["value"]
    )


def test_what_goes_in_the_records_is_the_rate_on_the_spots() -> None:
    whole = {
        each.product: each.rate.si
        for each in put_down(planned({"drawn": True}, of_spots(), ADJUVANT))
    }
    spots = put_down(planned({"area": "400 sq ft"}, of_spots(), ADJUVANT))

    for each in spots:
        # Rounded to the marks of a smaller jug.
        assert each.rate.si == pytest.approx(whole[each.product], rel=0.05)


def test_spots_nobody_told_are_refused_unless_the_label_allows_the_rate_over_all() -> None:
    assert codes(planned(None)) == ["spots_as_drawn"]
    assert codes(planned(None, of_spots(spot_rate_over_all=True))) == []
    assert codes(planned({"drawn": True})) == []


@pytest.mark.parametrize(
    ("spots", "refused"),
    [
        ({"share": "10 %"}, []),
        ({"share": "11 %"}, ["spots_over_share"]),
        ({"area": "499 sq ft"}, []),
        ({"area": "510 sq ft"}, ["spots_over_share"]),
        ({"drawn": True}, []),
        (None, ["spots_as_drawn", "spots_over_share"]),
    ],
)
def test_the_most_of_a_lawn_that_a_label_allows_is_kept(
    spots: Json | None, refused: list[str]
) -> None:
    assert codes(planned(spots, of_spots(spot_share_max="10 %"))) == refused


def test_spots_are_not_more_than_the_ground() -> None:
    plan = planned({"area": "6000 sq ft"})

    assert codes(plan) == ["spots_over_ground"]
    assert plan["carrier_volume"]["value"] == pytest.approx(5, rel=1e-3)


@pytest.mark.parametrize("spots", [{"area": "400 sq ft"}, {"share": "8 %"}])
@pytest.mark.parametrize("slopes", [{}, {"slope": "10 %"}])
def test_the_ground_of_the_spots_opens_to_its_working(spots: Json, slopes: Json) -> None:
    lawn = asking()["property"]
    lawn["features"][0]["properties"] |= slopes

    plan = planned(spots, property=lawn)

    entries = {each["figure"]: each for each in plan["working"]}
    for figure in ("spots.share", "level_area", "carrier_volume", "products[0].amount"):
        entry = entries[figure]
        assert by_hand(entry) == pytest.approx(entry["result"]["value"], rel=1e-11)
    assert entries["level_area"]["result"] == plan["level_area"]
    assert entries["spots.share"]["result"] == plan["spots"]["share"]


def test_a_place_without_ground_has_no_share_of_it() -> None:
    spots = read_request(asking(spots={"area": "4 m2"})).spots

    assert spots is not None
    assert spots.share_of(0.0) == 1.0


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"spots": {}}, "spots"),
        ({"spots": {"area": "4 m2", "share": "3 %"}}, "spots"),
        ({"spots": {"share": "101 %"}}, "spots.share"),
        ({"spots": {"area": "4 L"}}, "spots.area"),
        ({"spots": {"share": "3 %"}, "passes": True}, "passes"),
        ({"spots": "few"}, "spots"),
    ],
)
def test_what_cannot_be_right_about_spots_is_told(changes: Json, field: str) -> None:
    with pytest.raises(FaultsFound) as found:
        read_request(asking(**changes))

    assert field in {fault.field for fault in found.value.faults}
