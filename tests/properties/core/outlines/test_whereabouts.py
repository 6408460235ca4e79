"""Shapes that lie far from the rest, are swapped, or sprawl."""

import pyproj
import pytest

from properties.core.errors import FaultsFound
from properties.core.outlines import ShapeFault
from tests.properties.core.drawn import Json, area, box, drawing, feature

LAWN = feature("lawn", "turf", area(box(0, 0, 30, 20)))
BED = feature("bed", "flower_bed", area(box(5, 5, 9, 8)))


def at(ref: str, lon: float, lat: float, kind: str = "well") -> Json:
    return feature(ref, kind, {"type": "Point", "coordinates": [lon, lat]})


def faults_of(*features: object) -> list[ShapeFault]:
    with pytest.raises(FaultsFound) as found:
        drawing(*features)
    return [fault for fault in found.value.faults if isinstance(fault, ShapeFault)]


def test_a_shape_a_continent_away_is_told_with_its_distance_and_place() -> None:
    (fault,) = faults_of(LAWN, at("well", -0.1, 51.5), BED)

    assert fault.field == 'features[1] "well".geometry'
    assert fault.at_lonlat == (-0.1, 51.5)
    away_km = pyproj.Geod(ellps="WGS84").inv(-90, 40, -0.1, 51.5)[2] / 1000
    told_km = float(fault.problem.split(" km")[0].split()[-1].replace(",", ""))
    # The ball is as good as 0.6 % of the ellipsoid.
    assert told_km == pytest.approx(away_km, rel=0.006)
    assert "the other 2 shapes" in fault.problem


def test_a_shape_with_longitude_and_latitude_swapped_in_range_is_told_so() -> None:
    # 75° W 60° N is 60° E 75° S when swapped: both are on the map.
    north = area(box(0, 0, 30, 20), lon=-75, lat=60)
    (fault,) = faults_of(
        feature("lawn", "turf", north), feature("bed", "flower_bed", north), at("well", 60, -75)
    )

    assert "With longitude and latitude swapped it would lie beside them" in fault.problem
    assert "Longitude comes first" in fault.remedy


@pytest.mark.parametrize(
    ("position", "words"),
    [
        ([40.0, -90.5], "swapped, since no latitude is beyond 90"),
        ([40.0, -90.0], "off the map"),
        ([-90.0, 86.0], "off the map"),
        ([190.0, 40.0], "off the map"),
        ([400.0, 400.0], "off the map"),
    ],
)
def test_a_corner_off_the_map_is_told(position: list[float], words: str) -> None:
    (fault,) = faults_of(LAWN, at("well", position[0], position[1]))

    assert fault.field == 'features[1] "well".geometry.coordinates'
    assert words in fault.problem
    assert "ongitude" in fault.remedy


def test_of_two_shapes_apart_the_turf_is_the_property() -> None:
    (fault,) = faults_of(at("well", 10, 10), LAWN)

    assert (fault.shape, "the other shape" in fault.problem) == ("well", True)


def test_a_shape_nineteen_kilometres_away_is_still_of_the_property_and_at_twentyone_not() -> None:
    # A degree of latitude at 40° N is 111.03 km.
    assert len(drawing(LAWN, at("well", -90, 40 + 19 / 111.03)).shapes) == 2
    assert "lies 21 km" in faults_of(LAWN, at("well", -90, 40 + 21 / 111.03))[0].problem


def test_a_drawing_more_than_twenty_kilometres_across_is_refused_at_its_end() -> None:
    north, south = at("north", -90, 40 + 15 / 111.03), at("south", -90, 40 - 15 / 111.03)

    (fault,) = faults_of(LAWN, north, south)

    assert "The drawing is 30 km across" in fault.problem
    assert fault.shape in {"north", "south"}


def test_a_shape_more_than_twenty_kilometres_across_is_refused_with_its_far_corner() -> None:
    outline = area(box(0, 0, 30, 20))
    outline["coordinates"][0][2] = [-89, 40.0]

    (fault,) = faults_of(feature("lawn", "turf", outline), BED)

    assert "lawn is 85 km across" in fault.problem
    assert fault.at_lonlat == (-89, 40)


def test_shapes_all_over_the_world_are_each_told() -> None:
    scattered = [at(f"w{lon}", lon, 10.0) for lon in range(-170, 170, 5)]

    faults = faults_of(LAWN, *scattered)

    assert [fault.shape for fault in faults] == [f"w{lon}" for lon in range(-170, 170, 5)]


def test_a_property_on_both_sides_of_the_180th_meridian_is_one_property() -> None:
    assert (
        len(drawing(at("a", 179.999, -17), at("b", -179.999, -17), at("c", 180, -17)).shapes) == 3
    )


def test_a_shape_that_sprawls_is_told_of_where_it_is_the_only_one() -> None:
    wide = {"type": "LineString", "coordinates": [[-90.0, 40.0], [-89.0, 40.0]]}

    (fault,) = faults_of(feature("stream", "stream", wide))

    # A degree along the 40th parallel is 85.4 km (WGS 84).
    assert "stream is 85 km across" in fault.problem
