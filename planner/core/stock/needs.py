"""What planned jobs will need of a product, and how far that may be off.

Amounts in L or kg.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from planner.core.amounts.output_band import Joined
from planner.core.calibration.spread import StandardError


@dataclass(frozen=True)
class Need:
    """What one job needs of one product.

    ``by_ground`` is a standard deviation of the amount for each ground whose area may be off,
    ``by_output`` one for each calibration, with its degrees of freedom. Two jobs that name the
    same ground or the same calibration share its error. ``has_range`` is False where nobody
    can tell all that may be off.
    """

    on: date
    amount: float
    by_ground: Mapping[str, float] = field(default_factory=dict)
    by_output: Mapping[str, StandardError] = field(default_factory=dict)
    has_range: bool = True


@dataclass(frozen=True)
class Total:
    """What several jobs need together.

    ``without_range`` is how many of them are counted with their amount alone: the band does
    not hold what may be off with them.
    """

    jobs: int
    amount: float
    joined: Joined
    without_range: int

    @property
    def half_width(self) -> float:
        """The true need is within this 95 times in 100, as far as the errors are known."""
        return self.joined.half_width if self.joined.deviation else 0.0

    @property
    def lowest(self) -> float:
        """The lower end of the band."""
        return max(0.0, self.amount - self.half_width)

    @property
    def highest(self) -> float:
        """The upper end of the band: what has to be there."""
        return self.amount + self.half_width


def total_of(needs: Sequence[Need]) -> Total:
    """Add up what jobs need, and join what may be off.

    An error that two jobs share moves both the same way, so its parts add straight: a pace
    that is 3 % fast is so on every lawn, and a lawn drawn too large is so in every round.
    Errors that do not depend on one another add by their squares: two lawns drawn by hand,
    or the areas and the calibration. With sums ``s`` of each error over the jobs, the
    deviation of the total is the root of the sum of all ``s²``.

    Parameters
    ----------
    needs : Sequence of Need
        What the jobs need of one product. [L or kg]

    Returns
    -------
    Total
        The amount, and its band of 95 %. [L or kg]

    Raises
    ------
    Nothing
        Jobs whose range nobody knows are counted and told.

    References
    ----------
    JCGM 100:2008, Guide to the expression of uncertainty in measurement: 5.1.2 for errors that
    do not depend on one another, 5.2.2, note 1, for those that are one and the same; G.4.1 for
    the degrees of freedom (Welch and Satterthwaite).
    """
    running = Running()
    for need in needs:
        running.add(need)
    return running.total


class Running:
    """A total that grows job by job, so that each day’s is at hand without adding up again."""

    def __init__(self) -> None:
        self._amounts: list[float] = []
        self._grounds: dict[str, float] = {}
        self._outputs: dict[str, StandardError] = {}
        self._without_range = 0

    def add(self, need: Need) -> None:
        """Add what one more job needs."""
        self._amounts.append(need.amount)
        self._without_range += not need.has_range
        for ground, deviation in need.by_ground.items():
            self._grounds[ground] = self._grounds.get(ground, 0.0) + deviation
        for calibration, error in need.by_output.items():
            before = self._outputs.get(calibration)
            share = error.share + (0.0 if before is None else before.share)
            self._outputs[calibration] = StandardError(share, error.freedom)

    @property
    def total(self) -> Total:
        """What has been added so far."""
        return Total(
            jobs=len(self._amounts),
            amount=math.fsum(self._amounts),
            joined=Joined(math.hypot(*self._grounds.values()), tuple(self._outputs.values())),
            without_range=self._without_range,
        )
