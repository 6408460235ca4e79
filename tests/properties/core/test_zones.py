"""Areas in degrees: valid wherever they were valid in metres."""

import pyproj
import pytest
from hypothesis import given
from hypothesis import strategies as st

from properties.core.treatable import Treatment
from tests.properties.core.drawn import Json, area, box, feature, treated

GEOD = pyproj.Geod(ellps="WGS84")
along_m = st.floats(8, 32)
LAWN = box(0, 0, 40, 40)


def _touched(y_m: float, *, lat: float) -> Treatment:
    """A lawn and a patio, a corner of which lies on the western edge of the lawn."""
    patio = [(0.0, y_m), (20.0, y_m - 5), (20.0, y_m + 6)]
    return treated(
        feature("lawn", "turf", area(LAWN, lat=lat)),
        feature("patio", "patio", area(patio, lat=lat)),
    )


@given(y_m=along_m, lat=st.sampled_from([-35.0, 0.0, 40.0, 70.0]))
def test_an_area_that_touches_itself_is_valid_in_degrees_too(y_m: float, lat: float) -> None:
    site = _touched(y_m, lat=lat)

    treatable = site.treatable_degrees()

    assert treatable.is_valid
    assert all(part.exterior.is_ccw for part in treatable.geoms)
    by_geodesics_m2, _ = GEOD.geometry_area_perimeter(treatable)
    assert by_geodesics_m2 == pytest.approx(site.treatable_area_m2, abs=1e-3)


def test_an_area_on_the_180th_meridian_is_not_mended_round_the_earth() -> None:
    anchor = {"lon": 179.9998, "lat": 0.0}
    site = treated(
        feature("lawn", "turf", _wrapped(area(LAWN, **anchor))),
        feature("patio", "patio", _wrapped(area(box(15, 15, 30, 25), **anchor))),
    )

    # Longitudes jump in the lawn and in the hole, so as a plane this is no area at all.
    by_geodesics_m2, _ = GEOD.geometry_area_perimeter(site.treatable_degrees())

    assert by_geodesics_m2 == pytest.approx(40 * 40 - 15 * 10, rel=1e-3)


def _wrapped(drawn: Json) -> Json:
    """The same area with longitudes from -180 to 180."""
    rings = drawn["coordinates"]
    return drawn | {
        "coordinates": [
            [[lon - 360 if lon > 180 else lon, lat] for lon, lat in ring] for ring in rings
        ]
    }
