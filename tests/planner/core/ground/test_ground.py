"""Which distance is kept from each feature, and what may be sprayed."""

from typing import Any

import pytest

from planner.core.checks.ground import ground_findings
from planner.core.ground.ground import Ground, Rules, called, ground_of
from planner.core.request import read_request
from planner.core.shown import SHOWN, Units
from properties.core.setbacks import Claim
from properties.core.units import parse_quantity, quantity_of_si
from tests.planner.core.asking import (
    HERBICIDE,
    LAWN,
    MACHINE,
    area,
    asking,
    corners_of,
    place,
    point,
)

SQ_FT_M2 = 0.3048**2
# The plane of the test differs from a plane of true areas by parts in a million.
AREA_SHARE = 2e-5

BY_THE_WATER = corners_of(0, 50, 100, 60)
POND = area("pond", "pond", BY_THE_WATER)


def ground(*features: Any, rules: Rules | None = None, **changes: Any) -> Ground:
    request = read_request(asking(property=place(*features), **changes))
    return ground_of(request, rules=rules or Rules())


def reasons(found: Ground) -> list[str]:
    return [kept.setback.reason for kept in found.kept_from]


def distances_ft(found: Ground) -> list[float]:
    return [
        round(quantity_of_si(kept.setback.distance_m, "ft").value, 9) for kept in found.kept_from
    ]


def label(distance: str, name: str = "Invented herbicide", kind: str = "pond") -> Any:
    return HERBICIDE | {"name": name, "label": HERBICIDE["label"] | {"setbacks": {kind: distance}}}


def treatable_sq_ft(found: Ground) -> float:
    return found.treatment.treatable_area_m2 / SQ_FT_M2


def test_the_label_s_distance_is_kept_and_named() -> None:
    found = ground(LAWN, POND, mix=[label("25 ft")])

    assert reasons(found) == ["label of Invented herbicide: 25 ft from a pond"]
    # 100 by 50 ft less a strip of 25 ft along the pond.
    assert treatable_sq_ft(found) == pytest.approx(100 * 25, rel=AREA_SHARE)


@pytest.mark.parametrize(
    ("own", "labels", "expected", "reason"),
    [
        ("10 ft", ["25 ft"], 25, "label of Product 0: 25 ft from a pond"),
        ("30 ft", ["25 ft"], 30, "set on this feature"),
        ("25 ft", ["25 ft"], 25, "label of Product 0: 25 ft from a pond"),
        (None, ["25 ft", "8 m"], 8 / 0.3048, "label of Product 1: 8 m from a pond"),
        ("0 ft", [], 0, "set on this feature"),
    ],
)
def test_the_strictest_distance_wins(
    own: str | None, labels: list[str], expected: float, reason: str
) -> None:
    pond = POND if own is None else area("pond", "pond", BY_THE_WATER, setback=own)
    mix = [label(distance, name=f"Product {n}") for n, distance in enumerate(labels)]

    found = ground(LAWN, pond, mix=mix, setback_defaults={"pond": "40 ft"})

    assert distances_ft(found) == [pytest.approx(expected, abs=1e-6)]
    assert reasons(found) == [reason]
    assert not found.kept_from[0].by_default


def test_a_default_of_the_request_counts_where_nobody_else_speaks() -> None:
    found = ground(
        LAWN,
        POND,
        setback_defaults={"pond": "20 ft"},
        setback_defaults_source="rules of Invented Turf",
    )

    assert distances_ft(found) == [20]
    (warning,) = ground_findings(found, shown=SHOWN[Units.METRIC]).warnings
    assert (warning.code, warning.feature) == ("setback_default", "pond")
    assert "6.096 m" in warning.message  # 20 ft of 0.3048 m
    assert "rules of Invented Turf" in warning.message
    assert "Check it against the label" in warning.message


RULES = Rules({"pond": Claim(parse_quantity("15 ft"), "example, to be checked locally")})


@pytest.mark.parametrize(
    ("defaults", "expected"),
    [
        pytest.param({}, [15], id="a silent request goes by the rules"),
        pytest.param({"setback_defaults": {"pond": "20 ft"}}, [20], id="its own come first"),
        pytest.param({"setback_defaults": {"well": "9 ft"}}, [0], id="its own stand alone"),
    ],
)
def test_rules_count_only_for_a_request_without_defaults(
    defaults: Any, expected: list[float]
) -> None:
    found = ground(LAWN, POND, rules=RULES, **defaults)

    assert distances_ft(found) == expected


def test_an_unknown_distance_is_refused_and_never_taken_for_zero() -> None:
    bed = area("bed", "flower_bed", corners_of(10, 10, 20, 20), name="Roses")

    found = ground(LAWN, bed)

    (refusal,) = ground_findings(found, shown=SHOWN[Units.US]).refusals
    assert (refusal.code, refusal.feature) == ("setback_unknown", "bed")
    assert "Roses (flower bed)" in refusal.message
    # The bed itself is kept out: 5,000 less 100 sq ft.
    assert treatable_sq_ft(found) == pytest.approx(4900, rel=AREA_SHARE)


def test_an_obstacle_is_kept_away_from_only_if_it_has_a_distance() -> None:
    patio = area("patio", "patio", corners_of(10, 10, 20, 20))
    pool = area("pool", "pool", corners_of(0, 40, 100, 50), setback="5 ft")

    found = ground(LAWN, patio, pool, rules=RULES)

    assert [kept.shape.ref for kept in found.kept_from] == ["pool"]
    pieces = [piece / SQ_FT_M2 for piece in found.under_obstacles_m2]
    assert pieces == pytest.approx([100, 1000], rel=AREA_SHARE)
    # The pool's 5 ft strip is no-spray ground: 5,000 - 100 - 1,000 - 500.
    assert treatable_sq_ft(found) == pytest.approx(3400, rel=AREA_SHARE)


def test_ground_under_two_obstacles_is_told_for_both_and_counted_once() -> None:
    found = ground(
        LAWN,
        area("walk", "walk", corners_of(0, 0, 100, 10)),
        area("house", "building", corners_of(0, 5, 100, 20)),
        area("shed", "building", corners_of(0, -20, 10, -10)),
    )

    assert [area_m2 / SQ_FT_M2 for area_m2 in found.under_obstacles_m2] == pytest.approx(
        [1000, 1500, 0], rel=AREA_SHARE
    )
    assert found.treatment.obstacle_area_m2 / SQ_FT_M2 == pytest.approx(2000, rel=AREA_SHARE)


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("pond", "from a pond"),
        ("other_protected", "from an other protected feature"),
        ("beehives", "from beehives"),
        ("neighbours_land", "from neighbour’s land"),
    ],
)
def test_the_reason_reads_as_a_sentence(kind: str, words: str) -> None:
    feature = area("it", kind, corners_of(0, 50, 100, 60))

    (reason,) = reasons(ground(LAWN, feature, mix=[label("25 ft", kind=kind)]))

    assert reason.endswith(words)


def test_a_strip_too_narrow_for_the_swath_is_told_with_its_area() -> None:
    strip = area("strip", "turf", corners_of(200, 0, 206, 60))

    found = ground(LAWN, strip)

    assert found.hand_area_m2 / SQ_FT_M2 == pytest.approx(360, rel=AREA_SHARE)
    assert found.machine_area_m2 / SQ_FT_M2 == pytest.approx(5000, rel=AREA_SHARE)
    (warning,) = ground_findings(found, shown=SHOWN[Units.US]).warnings
    assert warning.code == "hand_area"
    assert warning.message.startswith("360 sq ft")


@pytest.mark.parametrize("kind", ["hand_gun", "backpack_sprayer"])
def test_a_tool_carried_by_hand_fits_everywhere(kind: str) -> None:
    strip = area("strip", "turf", corners_of(200, 0, 206, 60))

    found = ground(LAWN, strip, machine=MACHINE | {"kind": kind})

    assert (found.hand_area_m2, found.hand_pieces_m2) == (0, ())
    assert found.machine_area_m2 == found.treatment.treatable_area_m2


def test_ground_that_is_all_taken_names_the_features_that_took_it() -> None:
    found = ground(
        LAWN,
        area("house", "building", corners_of(0, 0, 50, 50), name="House"),
        point("well", "well", 75, 25, setback="100 ft"),
    )

    (refusal,) = ground_findings(found, shown=SHOWN[Units.US]).refusals
    assert refusal.code == "nothing_treatable"
    assert "House (building) and well (well)" in refusal.message
    assert (found.machine_area_m2, found.hand_area_m2) == (0, 0)


def test_a_shape_is_called_by_its_name_or_else_by_its_id() -> None:
    named = area("a1", "turf", corners_of(0, 0, 100, 50), name="Back lawn")

    shapes = ground(named, area("a2", "turf", corners_of(200, 0, 300, 50))).drawing.shapes

    assert [called(shape) for shape in shapes] == ["Back lawn (turf)", "a2 (turf)"]


def test_a_sliver_beside_an_obstacle_is_nothing_to_spray() -> None:
    # A ten-thousandth of a foot along 50 ft is 0.005 sq ft.
    found = ground(LAWN, area("house", "building", corners_of(0, 0, 99.9999, 50)))

    (refusal,) = ground_findings(found, shown=SHOWN[Units.US]).refusals
    assert refusal.code == "nothing_treatable"
