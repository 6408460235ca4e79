"""Read a drawing: every fault at once, a note for each repair."""

from collections.abc import Sequence
from typing import Any

from properties.core.errors import FaultsFound, Refused
from properties.core.outlines.cleaning import cleaned
from properties.core.outlines.draft import Draft
from properties.core.outlines.drawing import Drawing, Shape, ShapeFault
from properties.core.outlines.flat_map import FlatMap
from properties.core.outlines.members import read_members
from properties.core.outlines.plain import plain_areas
from properties.core.outlines.positions import Outline, corners_in, read_outline
from properties.core.outlines.tangles import is_tangle
from properties.core.outlines.whereabouts import placed_together

MOST_CORNERS = 20_000
#: So few corners cannot cross often enough to matter.
_FEW_CORNERS = 600


def read_drawing(collection: object) -> Drawing:
    """Read a GeoJSON FeatureCollection; say every fault of it at once.

    Parameters
    ----------
    collection : object
        The collection as it came out of a JSON reader: WGS 84 longitude and
        latitude. An empty one is a drawing too. [degree]

    Returns
    -------
    Drawing
        Its shapes, cleaned, with a note for every repair. [degree]

    Raises
    ------
    FaultsFound
        With every fault. The ``field`` of each leads to the place in the file,
        ``shape`` and ``at_lonlat`` to the place on the map where one is known.

    References
    ----------
    Butler, H. et al. (2016), The GeoJSON Format, RFC 7946.
    """
    features = _features_of(collection)
    drafts = read_members(features)
    corners = sum(corners_in(feature) for feature in features)
    if corners > MOST_CORNERS:
        raise FaultsFound([_too_many("features", corners), *_faults_of(drafts)])
    placed = _placed(drafts, features)
    shapes = _clean_all(placed)
    faults = _faults_of(drafts)
    if not faults and corners > _FEW_CORNERS and _is_tangled(placed):
        faults = [_tangled()]
    if faults:
        raise FaultsFound(faults)
    return Drawing(shapes, tuple(note for draft in drafts for note in draft.notes))


def _faults_of(drafts: Sequence[Draft]) -> list[Refused]:
    return [fault for draft in drafts for fault in draft.faults]


def _placed(drafts: Sequence[Draft], features: Sequence[Any]) -> list[tuple[Draft, Outline]]:
    """The drafts whose outline can be read and lies with the rest, with their outlines."""
    placed = []
    for draft, feature in zip(drafts, features, strict=True):
        if isinstance(feature, dict):
            outline = read_outline(draft, feature.get("geometry"))
            if outline is not None:
                placed.append((draft, outline))
    return placed_together(placed)


def _features_of(collection: object) -> list[Any]:
    features = collection.get("features") if isinstance(collection, dict) else None
    if (
        not isinstance(collection, dict)
        or collection.get("type") != "FeatureCollection"
        or not isinstance(features, list | tuple)
    ):
        raise FaultsFound(
            [
                ShapeFault(
                    "type",
                    "This is not a GeoJSON FeatureCollection.",
                    'A drawing is an object with "type": "FeatureCollection" and a list '
                    'of "features".',
                )
            ]
        )
    if len(features) > MOST_CORNERS:
        raise FaultsFound([_too_many("features", len(features))])
    return list(features)


def _too_many(field: str, corners: int) -> ShapeFault:
    return ShapeFault(
        field,
        f"The drawing has {corners:,} corners or more; {MOST_CORNERS:,} is the most.",
        "Leave out corners that lie on a straight line, or make it two properties.",
    )


def _is_tangled(placed: Sequence[tuple[Draft, Outline]]) -> bool:
    """Whether the shapes cross one another so often that their ground cannot be worked out."""
    flat = FlatMap(*placed[0][1].parts[0][0][0].tolist())
    return is_tangle(
        flat.xy(line) for _, outline in placed for part in outline.parts for line in part
    )


def _tangled() -> ShapeFault:
    return ShapeFault(
        "features",
        "The outlines of this drawing cross one another in very many places.",
        "Draw the shapes again with fewer corners.",
    )


def _clean_all(placed: Sequence[tuple[Draft, Outline]]) -> tuple[Shape, ...]:
    shapes = []
    plain = plain_areas(placed)
    for number, (draft, outline) in enumerate(placed):
        if draft.kind is None:
            continue
        geometry = plain.get(number) or cleaned(draft, draft.kind.role, outline)
        if geometry is not None:
            shapes.append(
                Shape(
                    draft.ref,
                    draft.kind,
                    draft.name,
                    geometry,
                    setback=draft.setback,
                    slope=draft.slope,
                    downwind_setback=draft.downwind_setback,
                    by_hand_only=draft.by_hand_only,
                    gate=draft.gate,
                    position_error=draft.position_error,
                    measured_by=draft.measured_by,
                    turfgrasses=draft.turfgrasses,
                )
            )
    return tuple(shapes)
