"""The smallest room left under one tool, and the rates that this leaves.

Amounts in L or kg per m².
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from shapely.geometry.base import BaseGeometry

from planner.core.label.labels import SAME_NUMBER
from planner.core.limits.ceilings import Ceiling
from planner.core.limits.faces import Face, Faces
from planner.core.limits.standing import Standing


@dataclass(frozen=True)
class Tightest:
    """The face with the least room against one limit, and what is asked for there.

    ``times`` is how many times as much comes down there as on level ground.
    """

    ceiling: Ceiling
    face: Face
    standing: Standing
    asked: float
    times: float = 1.0

    @property
    def most(self) -> float:
        """The most that may be put down at once."""
        return self.standing.most_now

    @property
    def share(self) -> float:
        """The most that may be put down, as a share of what is asked for."""
        return self.most / self.asked

    @property
    def is_passed(self) -> bool:
        """Whether more is asked for than may be put down."""
        return self.share < 1 - SAME_NUMBER


def tightest_under(
    area: BaseGeometry, faces: Faces, rates: Mapping[str, float]
) -> tuple[Tightest, ...]:
    """Find the least room under some ground, limit by limit.

    Parameters
    ----------
    area : BaseGeometry
        The ground of one tool. [m]
    faces : Faces
        The faces of the place. [m]
    rates : Mapping of str to float
        What each product of the mix is to put down per area. [L or kg/m²]

    Returns
    -------
    tuple[Tightest, ...]
        One for each limit that is known to leave some room. [-]

    Raises
    ------
    Nothing
        Ground without limits has none.

    References
    ----------
    Our own rule: with one tank and one output the fullest corner decides.
    """
    under = faces.open_under(area)
    return tuple(
        found
        for position, ceiling in enumerate(faces.ceilings)
        for found in _tightest(ceiling, position, under, rates)
    )


def _tightest(
    ceiling: Ceiling, position: int, under: Sequence[Face], rates: Mapping[str, float]
) -> Iterator[Tightest]:
    asked = ceiling.amount_from(rates)
    known = [face for face in under if face.standings[position].most_now < math.inf]
    if known and asked > 0:
        face = min(known, key=lambda face: face.standings[position].most_now)
        yield Tightest(ceiling, face, face.standings[position], asked)


def shares_left(tightest: Iterable[Tightest]) -> dict[str, float]:
    """Find the most of each product that may be put down, as a share of what is asked for.

    Where several products bring one substance, all of them may grow by the same share.

    Parameters
    ----------
    tightest : Iterable[Tightest]
        The least room against each limit. [-]

    Returns
    -------
    dict of str to float
        The share by the product's name; those that nothing limits are left out. [-]

    Raises
    ------
    Nothing
        Products without limits have no share.

    References
    ----------
    Our own derivation: if every product stays within its share, so does their sum.
    """
    left: dict[str, float] = {}
    for each in tightest:
        for name in each.ceiling.shares:
            left[name] = min(each.share, left.get(name, math.inf))
    return left
