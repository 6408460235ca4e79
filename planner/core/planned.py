"""The figures of a plan before anything is said about them."""

import math
from dataclasses import dataclass

from planner.core.calibration import Output
from planner.core.ground import Ground
from planner.core.parts import Part
from planner.core.portions import Load, Total
from planner.core.products import Product
from planner.core.request import PlanRequest
from planner.core.shown import Shown


@dataclass(frozen=True)
class Planned:
    """What was asked for, and what follows from it; the machine's part comes first."""

    request: PlanRequest
    ground: Ground
    mixing_order: tuple[Product, ...]
    parts: tuple[Part, ...]
    totals: tuple[Total, ...]

    @property
    def shown(self) -> Shown:
        """The units the plan is shown in."""
        return self.request.shown

    @property
    def output(self) -> Output:
        """The machine's output."""
        return self.parts[0].output

    @property
    def carrier_l(self) -> float:
        """All the finished spray."""
        return math.fsum(part.carrier_l for part in self.parts)

    @property
    def loads(self) -> tuple[Load, ...]:
        """Every load, the machine's first."""
        return tuple(load for part in self.parts for load in part.loads)
