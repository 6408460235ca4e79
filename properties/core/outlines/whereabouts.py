"""Shapes that lie far from the rest, or would lie there with lon and lat swapped.

Straight distances through the earth, taken as a ball: good to 1 % over the
20 km that matter here.
"""

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from properties.core.features import Role
from properties.core.frame import Floats
from properties.core.outlines.draft import Draft
from properties.core.outlines.positions import FARTHEST_LATITUDE, Outline

MOST_APART_KM = 20.0
_EARTH_RADIUS_KM = 6371.0
#: The diagonal of such a box is 19 km on the equator, and less elsewhere.
_CLOSE_DEG = 0.12
_MOST_GROUPS = 40

Placed = tuple[Draft, Outline]
Indices = npt.NDArray[np.intp]


def placed_together(placed: Sequence[Placed]) -> list[Placed]:
    """Find shapes that lie far from the rest or sprawl; what is wrong goes to their drafts.

    The largest group of shapes near one another is taken for the property.

    Parameters
    ----------
    placed : Sequence of tuple
        Each draft that has an outline, with it. [degree]

    Returns
    -------
    list of tuple
        Those small enough to be measured on one plane. [degree]

    Raises
    ------
    None
        What is wrong is kept in the drafts, so that all of it can be told at once.

    References
    ----------
    Our own derivation: what is worked as one property is less than 20 km across.
    """
    if _lie_close(placed):
        return list(placed)
    compact = [(draft, outline) for draft, outline in placed if not _sprawls(draft, outline)]
    if compact:
        firsts = _in_space(np.array([outline.corners[0] for _, outline in compact]))
        home = max(_groups(firsts), key=lambda group: _weight(compact, group)).tolist()
        for index in sorted(set(range(len(compact))) - set(home)):
            _say_far(*compact[index], firsts[home[0]], many=len(home))
        _check_extent([compact[index] for index in home])
    return compact


def _lie_close(placed: Sequence[Placed]) -> bool:
    """Whether all corners lie in a box of degrees that is small anywhere on earth."""
    corners = [line for _, outline in placed for part in outline.parts for line in part]
    return not corners or bool(np.ptp(np.concatenate(corners), axis=0).max() < _CLOSE_DEG)


def _in_space(lonlat: Floats) -> Floats:
    """Points on the ball for rows of longitude and latitude, in km from its middle."""
    lon, lat = np.radians(lonlat[:, 0]), np.radians(lonlat[:, 1])
    return _EARTH_RADIUS_KM * np.column_stack(
        (np.cos(lat) * np.cos(lon), np.cos(lat) * np.sin(lon), np.sin(lat))
    )


def _groups(points: Floats) -> list[Indices]:
    """Indices of points within reach of the first point of each group, group by group."""
    groups: list[Indices] = []
    left = np.arange(len(points))
    while len(left) and len(groups) < _MOST_GROUPS:
        near = np.linalg.norm(points[left] - points[left[0]], axis=1) <= MOST_APART_KM
        groups.append(left[near])
        left = left[~near]
    return groups


def _weight(compact: Sequence[Placed], group: Indices) -> tuple[int, bool]:
    kinds = [compact[index][0].kind for index in group.tolist()]
    return len(kinds), any(kind is not None and kind.role is Role.TURF for kind in kinds)


def _across_km(corners: Floats) -> tuple[float, int]:
    """Nearly the greatest distance between two corners, and the corner at one end of it."""
    points = _in_space(corners)
    one = int(np.argmax(np.linalg.norm(points - points[0], axis=1)))
    return float(np.linalg.norm(points - points[one], axis=1).max()), one


def _sprawls(draft: Draft, outline: Outline) -> bool:
    corners = outline.corners
    across_km, corner = _across_km(corners)
    if across_km <= MOST_APART_KM:
        return False
    draft.fault(
        ".geometry",
        f"{draft.title} is {across_km:,.0f} km across.",
        f"A shape has less than {MOST_APART_KM:.0f} km across: look for a corner that is far off.",
        at=_place(corners[corner]),
    )
    return True


def _say_far(draft: Draft, outline: Outline, anchor: Floats, *, many: int) -> None:
    corners = outline.corners
    straight_km = float(np.linalg.norm(_in_space(corners[:1])[0] - anchor))
    away_km = 2 * _EARTH_RADIUS_KM * math.asin(min(1.0, straight_km / 2 / _EARTH_RADIUS_KM))
    rest = "the other shape" if many == 1 else f"the other {many} shapes"
    problem = f"{draft.title} lies {away_km:,.0f} km from {rest}."
    remedy = "Move it to the property, or delete it."
    if _fits_swapped(corners, anchor):
        problem += " With longitude and latitude swapped it would lie beside them."
        remedy = "Longitude comes first, then latitude: swap the two."
    draft.fault(".geometry", problem, remedy, at=_place(corners[0]))


def _fits_swapped(corners: Floats, anchor: Floats) -> bool:
    swapped = corners[:, ::-1]
    if np.abs(swapped[:, 1]).max() > FARTHEST_LATITUDE:
        return False
    return bool(np.linalg.norm(_in_space(swapped) - anchor, axis=1).max() <= MOST_APART_KM)


def _check_extent(home: Sequence[Placed]) -> None:
    corners = [outline.corners for _, outline in home]
    across_km, corner = _across_km(np.concatenate(corners))
    if across_km <= MOST_APART_KM:
        return
    owner = int(np.searchsorted(np.cumsum([len(one) for one in corners]), corner, side="right"))
    draft = home[owner][0]
    draft.fault(
        ".geometry",
        f"The drawing is {across_km:,.0f} km across, and {draft.title} lies at one end of it.",
        f"A property has less than {MOST_APART_KM:.0f} km across: make it two properties.",
        at=_place(np.concatenate(corners)[corner]),
    )


def _place(corner: Floats) -> tuple[float, float]:
    return float(corner[0]), float(corner[1])
