"""The figures of a plan before anything is said about them."""

import math
from dataclasses import dataclass

from planner.core.amounts.parts import Part
from planner.core.calibration import Output
from planner.core.ground.ground import Ground
from planner.core.mix.portions import Load, Total
from planner.core.mix.products import Product
from planner.core.request import PlanRequest
from planner.core.shown import Shown
from planner.core.spread.first_pass import FirstPass, first_pass_of
from planner.core.spread.spreading import Spread


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
    def spread(self) -> Spread | None:
        """What a spreader puts down; None where the machine sprays."""
        return self.parts[0].spread

    @property
    def first_pass(self) -> FirstPass | None:
        """The first of two passes of a spreader, where it was told what it used."""
        used = self.request.first_pass_used
        if self.spread is None or used is None:
            return None
        return first_pass_of(self.spread, used_kg=used.si)

    @property
    def carrier_l(self) -> float:
        """All the finished spray."""
        return math.fsum(part.carrier_l for part in self.parts)

    @property
    def loads(self) -> tuple[Load, ...]:
        """Every load, the machine's first."""
        return tuple(load for part in self.parts for load in part.loads)
