"""Everything that one plan is asked for, checked and with its units."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from planner.core.machine.machines import Machine
from planner.core.mix.compatibility import NOTHING_TOLD, Mixing
from planner.core.mix.measures import Measures
from planner.core.mix.plants import Plants
from planner.core.mix.products import Product
from planner.core.nutrient.limits import NO_NUTRIENT_RULES, NutrientRules
from planner.core.past import Past
from planner.core.placing import UNPLACED, Placing
from planner.core.route import Route
from planner.core.setback_rules import SetbackRule
from planner.core.shown import SHOWN, Shown, Units
from planner.core.spots import Spots
from planner.core.tank_history import TankBefore
from planner.core.tank_now import TankNow
from planner.core.tools import Tool
from planner.core.weather import USUAL_RULE, Weather, WindRule
from properties.core.outlines import Drawing
from properties.core.setbacks import Claim
from properties.core.units import Quantity


class RateMeets(StrEnum):
    """Which area a label's rate is for: the turf as it lies on its slope, or its map."""

    SURFACE = "surface"
    PLAN = "plan"


@dataclass(frozen=True)
class PlanRequest:
    """A drawn place, a machine, a mix, and what else was told.

    ``setback_defaults`` are distances by kind of feature, for features whose
    distance neither a person, a label nor a rule gives. A request that brings them,
    even if empty, is complete: nobody else's defaults are added. None brings none.
    ``on`` is the day of the work, which rules with dates need. ``passes`` is None where
    nobody said whether they are wanted. With a ``route`` there may be no place of its own:
    the drawing is empty then, and so it is with ``plants``, which were counted in it.
    """

    drawing: Drawing
    machine: Machine
    products: tuple[Product, ...]
    measures: Measures
    weather: Weather | None = None
    units: Units = Units.US
    setback_defaults: Mapping[str, Claim] | None = None
    setback_rules: tuple[SetbackRule, ...] = ()
    on: date | None = None
    wind_rule: WindRule = USUAL_RULE
    hand_tool: Machine | None = None
    rate_meets: RateMeets = RateMeets.SURFACE
    tank_now: TankNow | None = None
    passes: bool | None = None
    placing: Placing = UNPLACED
    turfgrasses: tuple[str, ...] = ()
    mixing: Mixing = NOTHING_TOLD
    nutrient_rules: NutrientRules = NO_NUTRIENT_RULES
    first_pass_used: Quantity | None = None
    route: Route | None = None
    past: Past = field(default_factory=Past)
    tanks_before: tuple[TankBefore, ...] = ()
    plants: Plants | None = None
    spots: Spots | None = None

    @property
    def tools(self) -> tuple[tuple[Tool, Machine], ...]:
        """The machine, and the hand tool if there is one."""
        machine = (Tool.MACHINE, self.machine)
        return (machine,) if self.hand_tool is None else (machine, (Tool.HAND_TOOL, self.hand_tool))

    @property
    def has_place(self) -> bool:
        """Whether a place of its own is to be planned, and not a route alone."""
        return bool(self.drawing.shapes)

    @property
    def shown(self) -> Shown:
        """The units the plan is shown in."""
        shown = SHOWN[self.units]
        return shown if self.machine.spreading is None else shown.of_granules
