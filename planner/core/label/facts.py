"""What a label says beside its rates: who must wear what, what must wait, what it forbids.

Nothing here is worked out. What nobody copied is unknown.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from properties.core.units import Quantity


class SignalWord(StrEnum):
    """How dangerous a product is to handle, mildest first."""

    CAUTION = "caution"
    WARNING = "warning"
    DANGER = "danger"
    DANGER_POISON = "danger_poison"


class Droplets(StrEnum):
    """The classes of drop size, finest first. The standard gives them no sizes of their own."""

    EXTREMELY_FINE = "extremely_fine"
    VERY_FINE = "very_fine"
    FINE = "fine"
    MEDIUM = "medium"
    COARSE = "coarse"
    VERY_COARSE = "very_coarse"
    EXTREMELY_COARSE = "extremely_coarse"
    ULTRA_COARSE = "ultra_coarse"


class Tolerance(StrEnum):
    """How well a turfgrass stands a product."""

    TOLERATES = "tolerates"
    CAUTION = "caution"
    FORBIDDEN = "forbidden"


class Need(StrEnum):
    """What a label says of an adjuvant."""

    REQUIRED = "required"
    FORBIDDEN = "forbidden"


class Use(StrEnum):
    """How a line of the label’s table is meant to be put out."""

    BROADCAST = "broadcast"
    SPOT = "spot"
    PER_PLANT = "per_plant"


@dataclass(frozen=True)
class WaterIn:
    """How much water must bring the product into the ground, and how soon."""

    depth: Quantity | None = None
    within: Quantity | None = None


@dataclass(frozen=True)
class Told:
    """What is told on the sheet as it was copied: for the person who mixes, sprays and posts.

    ``version`` counts what the firm made of the label.
    ``keep_off`` is how long people and animals stay off at least, ``until_dry`` whether
    they also wait for the spray to dry. ``kills_turf`` marks a total herbicide.
    """

    registration_number: str | None = None
    signal_word: SignalWord | None = None
    protection: str | None = None
    finest_droplets: Droplets | None = None
    coarsest_droplets: Droplets | None = None
    keep_off: Quantity | None = None
    until_dry: bool = False
    rain_fast: Quantity | None = None
    water_in: WaterIn | None = None
    irrigation_hold: Quantity | None = None
    mixing_notes: str | None = None
    kills_turf: bool = False
    version: int | None = None


@dataclass(frozen=True)
class Conditions:
    """What must be so before anything is sprayed.

    ``tolerance`` is by the word of a turfgrass, ``adjuvants`` by the short name of a
    formulation; ``adjuvant`` there means any that helps the spray to stick or spread.
    ``turf`` is the turfgrass that the rates are for, None where they are for any.
    ``strongest_in_water`` is the most of the product in a volume of water, and
    ``least_in_spray`` the least in a volume of finished spray, whatever its rate per area.
    ``spot_share_max`` is the most of a lawn that spots may be, and ``spot_rate_over_all``
    tells that a rate for spots may go over all of it too.
    """

    wind_min: Quantity | None = None
    temperature_min: Quantity | None = None
    temperature_max: Quantity | None = None
    tolerance: Mapping[str, Tolerance] = field(default_factory=dict)
    adjuvants: Mapping[str, Need] = field(default_factory=dict)
    use: Use = Use.BROADCAST
    turf: str | None = None
    strongest_in_water: Quantity | None = None
    least_in_spray: Quantity | None = None
    spot_share_max: Quantity | None = None
    spot_rate_over_all: bool = False
