"""The figures of a plan before anything is said about them."""

from dataclasses import dataclass

from planner.core.calibration import Output
from planner.core.ground import Ground
from planner.core.portions import Load, Total
from planner.core.products import Product
from planner.core.request import PlanRequest
from planner.core.shown import Shown


@dataclass(frozen=True)
class Planned:
    """What was asked for, and what follows from it."""

    request: PlanRequest
    ground: Ground
    output: Output
    carrier_l: float
    mixing_order: tuple[Product, ...]
    totals: tuple[Total, ...]
    loads: tuple[Load, ...]

    @property
    def shown(self) -> Shown:
        """The units the plan is shown in."""
        return self.request.shown
