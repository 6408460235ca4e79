"""What is taken for plain at a glance is what cleaning gives without a word."""

from copy import deepcopy

import pytest
from hypothesis import given
from hypothesis import strategies as st

from properties.core.features import KINDS, Role
from properties.core.outlines.cleaning import cleaned
from properties.core.outlines.draft import Draft
from properties.core.outlines.plain import plain_areas
from properties.core.outlines.positions import Outline, read_outline
from tests.properties.core.anywhere import areas, dots
from tests.properties.core.drawn import Json, Point, area, box, on_the_map
from tests.properties.core.outlines.alone import SQUARE

BOW_TIE = [(0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 10.0)]
SPIKED: list[Point] = [(0, 0), (10, 0), (10, 5), (16, 5), (10.0, 5.001), (10, 10), (0, 10)]
ACROSS = {
    "type": "Polygon",
    "coordinates": [[[179.9999, 0.0], [-179.9999, 0.0], [-179.9999, 1e-4], [179.9999, 0.0]]],
}
KIND = {Role.TURF: "turf", Role.OBSTACLE: "patio", Role.PROTECTED: "pond"}


def placed(outline: Json, role: Role = Role.TURF) -> tuple[Draft, Outline]:
    draft = Draft(0, "a", "features[0]", kind=KINDS[KIND[role]])
    read = read_outline(draft, outline)
    assert read is not None
    return draft, read


@st.composite
def troubled(draw: st.DrawFn) -> Json:
    """An outline with a corner put elsewhere, twice, left out or out of turn, or none of it."""
    outline: Json = deepcopy(draw(areas() | dots))
    if outline["type"] == "Point":
        return outline
    ring = outline["coordinates"][0]
    corner = draw(st.integers(1, len(ring) - 2))
    match draw(st.sampled_from(["as it is", "moved", "twice", "beside", "open", "turned", "hole"])):
        case "moved":
            ring[corner] = draw(areas())["coordinates"][0][0]
        case "twice":
            ring.insert(corner, ring[corner])
        case "beside":
            ring.insert(corner, [ring[corner][0] + draw(st.sampled_from([1e-13, 1e-9])), 40.0])
        case "open":
            ring.pop()
        case "turned":
            ring.reverse()
        case "hole":
            outline["coordinates"].append(on_the_map([(0, 0), (0, 1), (1, 1), (0, 0)]))
    return outline


@given(outlines=st.lists(troubled(), max_size=4), role=st.sampled_from(list(Role)))
def test_a_plain_area_is_what_cleaning_gives_without_a_word(
    outlines: list[Json], role: Role
) -> None:
    every = [placed(outline, role) for outline in outlines]

    for number, plain in plain_areas(every).items():
        draft, outline = every[number]
        assert plain.equals_exact(cleaned(draft, role, outline), 0, normalize=False)
        assert (draft.notes, draft.faults) == ([], [])


@given(outlines=st.lists(areas(), min_size=1, max_size=4))
def test_outlines_without_trouble_are_plain(outlines: list[Json]) -> None:
    every = [placed(outline) for outline in outlines]

    assert list(plain_areas(every)) == list(range(len(every)))


@pytest.mark.parametrize(
    "outline",
    [
        pytest.param(area(BOW_TIE), id="a bow-tie"),
        pytest.param(area(SPIKED), id="a spike"),
        pytest.param(area(SQUARE[::-1]), id="clockwise"),
        pytest.param(area(box(0, 0, 10, 0.01)), id="a sliver"),
        pytest.param(area(box(0, 0, 0.09, 0.09)), id="less than a hand"),
        pytest.param(area(SQUARE, box(2, 2, 4, 4)), id="with a hole"),
        pytest.param(area([*SQUARE, SQUARE[-1]]), id="a corner twice"),
        pytest.param({"type": "Polygon", "coordinates": [on_the_map(SQUARE)]}, id="open"),
        pytest.param({"type": "Polygon", "coordinates": [on_the_map(SQUARE[:3])]}, id="short"),
        pytest.param(ACROSS, id="across the 180th meridian"),
        pytest.param({"type": "Point", "coordinates": [-90.0, 40.0]}, id="a point"),
    ],
)
def test_an_outline_that_may_need_more_than_a_look_is_not_plain(outline: Json) -> None:
    assert plain_areas([placed(outline)]) == {}
