"""Both engines leave the same ground, whatever the rings; one of them is always there."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon
from shapely.errors import GEOSException

from properties.core.sweep import engines
from properties.core.sweep.engines import Engine, swept_by_clipper, swept_by_geos
from properties.core.sweep.rings import Rings
from tests.properties.core.engines import with_each_engine

Corners = list[tuple[float, float]]


def rings_of(*lines: Corners) -> Rings:
    """Rings as they are, in one row."""
    counts = np.array([len(line) for line in lines])
    return Rings(
        np.array([corner for line in lines for corner in line], dtype=float),
        counts,
        np.zeros(len(lines), dtype=np.intp),
    )


def regular(x: float, y: float, size: float, corners: int, turn: float) -> Corners:
    angles = [turn + 2 * math.pi * corner / corners for corner in range(corners)]
    return [(x + size * math.cos(angle), y + size * math.sin(angle)) for angle in angles]


lines = st.builds(
    regular,
    x=st.floats(0, 30),
    y=st.floats(0, 30),
    size=st.floats(0.5, 15),
    corners=st.integers(3, 12),
    turn=st.floats(0, math.pi),
)


@given(lawn=lines, cut=st.lists(lines, max_size=6))
def test_both_engines_leave_what_an_overlay_leaves(lawn: Corners, cut: list[Corners]) -> None:
    rings = rings_of(lawn, *(line[::-1] for line in cut))
    left = Polygon(lawn).difference(shapely.union_all([Polygon(line) for line in cut]))

    quick, reference = (engine(rings, 1) for engine in (swept_by_clipper, swept_by_geos))

    # The grid moves an outline by 10 nm at most.
    slack_m2 = 1e-8 * (left.length + 1)
    assert quick.areas_m2[0] == pytest.approx(left.area, rel=1e-9, abs=slack_m2)
    assert reference.areas_m2[0] == pytest.approx(left.area, rel=1e-9, abs=1e-9)
    assert quick.is_sound.all()


@with_each_engine
@pytest.mark.parametrize(
    ("line", "area_m2"),
    [
        pytest.param([(0, 0), (10, 0), (10, 10), (0, 10)] * 2, 100, id="wound twice"),
        pytest.param([(0, 0), (10, 0), (10, 10), (10, 25), (10, 10), (0, 10)], 100, id="a spike"),
        pytest.param([(0, 0), (10, 0), (2, 10), (8, 10)], 31.25, id="a bow-tie, one lobe left"),
        pytest.param([(0, 0), (10, 0), (5, 0)], 0, id="a line"),
        pytest.param([(0, 10), (10, 10), (10, 0), (0, 0)], 0, id="clockwise"),
    ],
)
def test_the_ground_left_is_that_with_a_turn_to_the_left(
    engine: Engine, line: Corners, area_m2: float
) -> None:
    assert engine(rings_of(line), 1).areas_m2.tolist() == pytest.approx([area_m2], abs=1e-6)


def test_where_the_quick_engine_is_missing_the_reference_sweeps(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    assert engines.quickest() is swept_by_clipper

    monkeypatch.setattr(engines, "manifold3d", None)

    assert engines.quickest() is swept_by_geos


def test_no_row_is_sound_where_the_reference_gives_up(monkeypatch: pytest.MonkeyPatch) -> None:
    def gives_up(*_: object) -> None:
        raise GEOSException

    monkeypatch.setattr(shapely, "buffer", gives_up)

    swept = swept_by_geos(rings_of(regular(0, 0, 5, 4, 0)), 1)

    assert not swept.is_sound.any()
    assert swept.areas_m2.tolist() == [0]
