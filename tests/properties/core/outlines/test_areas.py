"""One area that is no shape of a drawing, read with the same care."""

from typing import Any

import pytest
import shapely

from properties.core.errors import FaultsFound
from properties.core.outlines import MOST_CORNERS, read_area

SQUARE: list[list[float]] = [[-90, 40], [-89.999, 40], [-89.999, 40.001], [-90, 40.001], [-90, 40]]
BOW_TIE: list[list[float]] = [[-90, 40], [-89.999, 40.001], [-89.999, 40], [-90, 40.001], [-90, 40]]


def polygon(*rings: Any) -> dict[str, Any]:
    return {"type": "Polygon", "coordinates": list(rings)}


def refused(geometry: object) -> dict[str, str]:
    with pytest.raises(FaultsFound) as found:
        read_area(geometry, field="where")
    return {fault.field: str(fault) for fault in found.value.faults}


def test_a_sound_area_stays_as_it_was_drawn() -> None:
    assert read_area(polygon(SQUARE), field="where").equals(shapely.Polygon(SQUARE))


def test_of_an_outline_that_crosses_itself_all_ground_is_read() -> None:
    area = read_area(polygon(BOW_TIE), field="where")

    # Two triangles, each a quarter of the square.
    assert area.is_valid
    assert area.area == pytest.approx(shapely.Polygon(SQUARE).area / 2, rel=1e-3)


def test_parts_without_ground_are_left_out() -> None:
    flat = [[-90, 40], [-89.999, 40], [-90, 40]]
    several = {"type": "MultiPolygon", "coordinates": [[SQUARE], [flat]]}

    assert read_area(several, field="where").area == pytest.approx(shapely.Polygon(SQUARE).area)
    assert "holds no ground" in refused(polygon(flat))["where"]


@pytest.mark.parametrize("geometry", [None, [], {"type": "LineString", "coordinates": SQUARE}])
def test_what_is_no_area_is_refused(geometry: object) -> None:
    assert "Polygon or MultiPolygon" in refused(geometry)["where"]


def test_a_wrong_corner_is_told_in_its_place() -> None:
    faults = refused(polygon([[-90, 40], [-90, "x"], [-89, 41]]))

    assert set(faults) == {"where.coordinates[0][1]"}


def test_too_many_corners_are_refused() -> None:
    ring = [[-90 + 1e-6 * n, 40] for n in range(MOST_CORNERS + 1)]

    assert "more than 20,000 corners" in refused(polygon(ring))["where"]
