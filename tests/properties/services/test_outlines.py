"""Saving a drawing: what is kept, what is refused, and that the past stays readable."""

import copy
from typing import Any

import pytest
import shapely
from django.db import connection
from pytest_django import DjangoAssertNumQueries

from properties.core.changes import compare
from properties.core.errors import FaultsFound
from properties.core.treatable import Treatment
from properties.models import Outline, Person, Property, Revision
from properties.selectors.areas import treatment_of
from properties.selectors.outlines import drawing_of
from properties.services.outlines import DrawnMeanwhile, save_drawing
from properties.web.change_words import told
from tests.places import SAVED_AT, collection, feature, rectangle, small_lot


def _save(place: Property, owner: Person, drawn: object, *, base: int = 1) -> int:
    return save_drawing(
        place, person=owner, at=SAVED_AT, base=base, why="", collection=drawn
    ).number


def test_saving_the_same_drawing_again_makes_no_revision(place: Property, owner: Person) -> None:
    assert _save(place, owner, small_lot()) == 1
    assert Revision.objects.count() == 1


def test_only_the_shape_that_changed_is_written_anew(place: Property, owner: Person) -> None:
    changed = small_lot()
    changed["features"][2]["properties"]["setback"] = "5 ft"

    assert _save(place, owner, changed) == 2

    assert list(Outline.objects.filter(since=2).values_list("ref", flat=True)) == ["roses"]
    assert list(Outline.objects.filter(until=2).values_list("ref", flat=True)) == ["roses"]


def test_what_grows_in_a_lawn_is_kept_with_it_and_told_of_a_change(
    place: Property, owner: Person
) -> None:
    changed = small_lot()
    changed["features"][0]["properties"]["turfgrasses"] = ["fine_fescue", "tall_fescue"]

    assert _save(place, owner, changed) == 2

    before, after = drawing_of(place, number=1), drawing_of(place)
    assert after.shapes[0].turfgrasses == ("fine_fescue", "tall_fescue")
    (change,) = told(compare(before, after), "us")
    assert change.words == ("grows fine fescue with tall fescue, was as the property says",)


def test_an_earlier_drawing_can_be_read_back(place: Property, owner: Person) -> None:
    _save(place, owner, collection(feature("lawn", "turf", rectangle(0, 0, 300, 300))))

    assert [shape.ref for shape in drawing_of(place).shapes] == ["lawn"]
    assert [shape.ref for shape in drawing_of(place, number=1).shapes] == [
        "lawn",
        "house",
        "roses",
        "pond",
    ]
    before, after = drawing_of(place, number=1).shapes[0], drawing_of(place).shapes[0]
    assert before.geometry.area > after.geometry.area


def test_degrees_are_stored_to_the_last_bit(place: Property) -> None:
    drawn = small_lot()["features"][0]["geometry"]["coordinates"][0]

    stored = shapely.get_coordinates(drawing_of(place).shapes[0].geometry)

    assert {tuple(corner) for corner in drawn} == {tuple(corner) for corner in stored}


def test_a_drawing_that_was_saved_meanwhile_is_not_overwritten(
    place: Property, owner: Person
) -> None:
    _save(place, owner, collection(feature("lawn", "turf", rectangle(0, 0, 300, 300))))

    with pytest.raises(DrawnMeanwhile) as meanwhile:
        _save(place, owner, small_lot(), base=1)

    assert meanwhile.value.number == 2
    assert "Olive saved this drawing" in str(meanwhile.value)
    assert [shape.ref for shape in drawing_of(place).shapes] == ["lawn"]


def test_a_drawing_with_faults_changes_nothing(place: Property, owner: Person) -> None:
    broken = copy.deepcopy(small_lot())
    broken["features"][0]["properties"]["kind"] = "moat"
    broken["features"][3]["properties"]["setback"] = "-2 ft"

    with pytest.raises(FaultsFound) as found:
        _save(place, owner, broken)

    assert len(found.value.faults) == 2
    place.refresh_from_db()
    assert place.drawing_number == 1
    assert len(drawing_of(place).shapes) == 4


def test_the_bounds_and_the_turf_follow_the_drawing(place: Property, owner: Person) -> None:
    _save(place, owner, collection(feature("lawn", "turf", rectangle(0, 0, 300, 300))))
    place.refresh_from_db()

    assert place.west == pytest.approx(-92.001)
    assert place.north == pytest.approx(41.0008)
    # 0.0003° of longitude and latitude at 41° N, about 25.2 m by 33.3 m on the WGS 84 ellipsoid
    # (radii of curvature by the formulas of any geodesy textbook; from memory).
    assert place.turf_area_m2 == pytest.approx(25.24 * 33.32, rel=2e-3)


def test_an_empty_drawing_has_no_bounds(place: Property, owner: Person) -> None:
    _save(place, owner, collection())
    place.refresh_from_db()

    assert (place.west, place.south, place.east, place.north) == (None, None, None, None)
    assert place.turf_area_m2 == 0


def test_a_drawing_of_many_shapes_is_saved_with_few_questions_to_the_database(
    place: Property, owner: Person, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    lawn = feature("lawn", "turf", rectangle(0, 0, 500, 400))
    beds = [feature(f"bed-{n}", "flower_bed", rectangle(4 * n, 10, 2, 2)) for n in range(100)]

    with django_assert_max_num_queries(40):
        _save(place, owner, collection(lawn, *beds))

    assert len(drawing_of(place).shapes) == 101


def test_a_drawing_is_measured_before_others_have_to_wait(
    place: Property, owner: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    locked_while_measured: list[bool] = []
    outside = len(connection.savepoint_ids)

    def measured(*given: Any, **told: Any) -> Treatment:
        locked_while_measured.append(len(connection.savepoint_ids) > outside)
        return treatment_of(*given, **told)

    monkeypatch.setattr("properties.services.outlines.treatment_of", measured)
    _save(place, owner, collection(feature("lawn", "turf", rectangle(0, 0, 300, 300))))

    assert locked_while_measured == [False]
