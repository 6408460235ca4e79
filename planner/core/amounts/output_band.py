"""How far spray and products may be off because an output is known only as well as its runs.

A tank is mixed for the output that was measured. Where the true one is a share more, the
ground gets that share more of the mix, and of each product in it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.core.amounts.parts import Part
from planner.core.calibration.spread import StandardError, t_of_95_percent

#: With so many degrees of freedom t is that of the normal distribution, 1.96.
MOST_DEGREES = 10_000
SAME_DEGREES = 1e-9


@dataclass(frozen=True)
class Joined:
    """A standard deviation by the areas, and one by each output with its degrees of freedom."""

    by_areas: float
    by_outputs: tuple[StandardError, ...]

    @property
    def deviation(self) -> float:
        """All together: they do not depend on each other, so their squares add."""
        return math.hypot(self.by_areas, *(error.share for error in self.by_outputs))

    @property
    def t(self) -> float:
        """Within how many deviations 95 of 100 lie; the areas have no end of degrees."""
        fourths = math.fsum(error.share**4 / error.freedom for error in self.by_outputs)
        degrees = self.deviation**4 / fourths if fourths else math.inf
        return t_of_95_percent(math.floor(min(degrees + SAME_DEGREES, MOST_DEGREES)))

    @property
    def half_width(self) -> float:
        """The true figure is within this 95 times in 100."""
        return self.t * self.deviation


@dataclass(frozen=True)
class OutputBand:
    """The tools that spray, each with an output of known error."""

    parts: tuple[Part, ...]

    def joined_with(self, deviation: float, amounts: Sequence[float]) -> Joined:
        """Join the standard deviation by the areas with those by the outputs."""
        errors = [
            replace(error, share=error.share * amount)
            for error, amount in zip(self.errors, amounts, strict=True)
        ]
        return Joined(deviation, tuple(errors))

    @property
    def errors(self) -> tuple[StandardError, ...]:
        """How well each output is known."""
        errors = (part.output.error for part in self.parts)
        return tuple(error for error in errors if error is not None)

    def products(self, position: int) -> tuple[float, ...]:
        """The amount of a product that each tool puts down."""
        return tuple(part.totals[position].amount for part in self.parts)

    @property
    def carriers_l(self) -> tuple[float, ...]:
        """The finished spray of each tool."""
        return tuple(part.carrier_l for part in self.parts)


def output_band(parts: Sequence[Part]) -> OutputBand | None:
    """Gather how well the outputs of a plan are known.

    Parameters
    ----------
    parts : Sequence[Part]
        What each tool sprays. [L or kg]

    Returns
    -------
    OutputBand or None
        The tools that spray; None where there are none, or where of one nobody can tell how
        well it is known. [-]

    Raises
    ------
    Nothing
        What is not known is said.

    References
    ----------
    JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1.6: shares of a
    product add by their squares.
    """
    spraying = tuple(part for part in parts if part.carrier_l)
    known = all(part.output.error is not None for part in spraying)
    return OutputBand(spraying) if spraying and known else None
