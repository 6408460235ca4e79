"""What a label allows, as data: rate kinds, ranges, distances, carrier, wind.

Rates are L/m² or kg/m² of ground, or L/L or kg/L of finished spray.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from planner.core.label.facts import Conditions, Told
from planner.core.label.limits import ActiveIngredient, SeedingWait, UseLimits
from planner.core.label.methods import Method
from properties.core.units import Dimension, Quantity

#: Two numbers that differ by less than this are the same typed number in two units.
SAME_NUMBER = 1e-9


class Form(StrEnum):
    """How a product is measured out."""

    LIQUID = "liquid"
    DRY = "dry"


class Basis(StrEnum):
    """What a rate is given for."""

    AREA = "area"
    SPRAY = "finished spray"
    PLANT = "plant"


@dataclass(frozen=True)
class RateKind:
    """Two rates may be compared only if their kinds are equal."""

    form: Form
    basis: Basis

    @property
    def is_weighed(self) -> bool:
        """Whether the product is measured by its weight."""
        return self.form is Form.DRY

    def __str__(self) -> str:
        measured = "weight" if self.is_weighed else "volume"
        return f"{measured} per {self.basis}"


RATE_KINDS = {
    Dimension.VOLUME_PER_AREA: RateKind(Form.LIQUID, Basis.AREA),
    Dimension.MASS_PER_AREA: RateKind(Form.DRY, Basis.AREA),
    Dimension.VOLUME_PER_VOLUME: RateKind(Form.LIQUID, Basis.SPRAY),
    Dimension.SHARE: RateKind(Form.LIQUID, Basis.SPRAY),
    Dimension.MASS_PER_VOLUME: RateKind(Form.DRY, Basis.SPRAY),
}

#: A bare amount is a rate where plants are treated one by one.
PLANT_KINDS = {
    Dimension.VOLUME: RateKind(Form.LIQUID, Basis.PLANT),
    Dimension.MASS: RateKind(Form.DRY, Basis.PLANT),
}
EVERY_KIND = RATE_KINDS | PLANT_KINDS


@dataclass(frozen=True)
class Limits:
    """A range of which either end may be unknown. Both ends are of one kind."""

    lowest: Quantity | None = None
    highest: Quantity | None = None

    def exceeded_by(self, si: float) -> bool:
        """Whether a number lies above the highest that is known."""
        return self.highest is not None and si > self.highest.si * (1 + SAME_NUMBER)

    def undercut_by(self, si: float) -> bool:
        """Whether a number lies below the lowest that is known."""
        return self.lowest is not None and si < self.lowest.si * (1 - SAME_NUMBER)


@dataclass(frozen=True)
class LabelSetback:
    """What a label asks for from one kind of feature: in general, by method, downwind."""

    distance: Quantity | None = None
    by_method: Mapping[Method, Quantity] = field(default_factory=dict)
    downwind: Quantity | None = None

    def for_method(self, method: Method) -> Quantity | None:
        """The distance for a method: its own line if the label has one, else the general."""
        return self.by_method.get(method, self.distance)


@dataclass(frozen=True)
class Label:
    """What a person copied from a label. What was not copied is unknown, not unlimited.

    ``density`` is the weight of a measured volume of the product, liquid or dry.
    """

    rate: Limits = field(default_factory=Limits)
    carrier: Limits = field(default_factory=Limits)
    setbacks: Mapping[str, LabelSetback] = field(default_factory=dict)
    wind_max: Quantity | None = None
    limits: UseLimits = field(default_factory=UseLimits)
    active_ingredients: tuple[ActiveIngredient, ...] | None = None
    density: Quantity | None = None
    seeding: SeedingWait = field(default_factory=SeedingWait)
    conditions: Conditions = field(default_factory=Conditions)
    told: Told = field(default_factory=Told)
