"""What is found about the rounds of a season, each asked in advance."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from planner.core.findings import Finding
from planner.core.plan import Plan
from planner.core.report.quantities import Json
from planner.core.season.windows import Window
from planner.core.shown import day_said
from properties.core.units import Quantity

#: What can only be known on the day, and is seen to then; it says nothing about the season.
OF_THE_DAY = frozenset(
    {
        *("calibration_expired", "calibration_void", "calibration_off_target"),
        *("calibration_scattered", "calibration_needs_another_run", "calibration_other_product"),
        *("nozzles_uneven", "spread_off_target", "first_pass_off", "tank_not_rinsed"),
        *("wind_over_label", "wind_over_firm", "wind_under_label", "rain_too_soon"),
        *("temperature_over_label", "temperature_under_label"),
    }
)
#: Warnings that are about the season: ground left out, and what nobody knows of the place.
OF_THE_SEASON = frozenset(
    {
        *("ground_closed", "turf_spared", "turf_barred", "no_tool_fits", "kills_turf"),
        *("history_unknown", "history_incomplete", "history_content_unknown"),
        *("blackout_unchecked", "seeding_wait_unknown", "nutrients_unknown"),
        *("nutrient_limit_example", "turf_tolerance_unsure", "turfgrass_unknown"),
    }
)


class Outcome(StrEnum):
    """What comes of asking for a round in advance."""

    FITS = "fits"
    LATER = "later"
    PART = "part"
    REFUSED = "refused"
    UNKNOWN = "unknown"


@dataclass(frozen=True, eq=False)
class RoundAsked:
    """A round that is asked about: its window, the day to begin with, and how to ask.

    ``request_on`` writes the plan request of a day without the other rounds; ``contents``
    says of each product of the mix what an application of the past tells.
    """

    number: int
    name: str
    window: Window
    day: date
    request_on: Callable[[date], Json]
    contents: Mapping[str, Json]
    #: A job of the place that is no round of the season, and counts all the same.
    is_other: bool = False

    @property
    def words(self) -> str:
        """The round in a sentence."""
        return f"the job {self.name}" if self.is_other else f"round {self.number}, {self.name}"


@dataclass(frozen=True)
class UsedUp:
    """An application that counts against what is asked for.

    ``round`` is None where it is in the records of the place.
    """

    product: str
    on: date
    rate: Quantity
    round: RoundAsked | None = None

    @property
    def words(self) -> str:
        """The application in a sentence."""
        by = "in the records" if self.round is None else f"planned in {self.round.words}"
        return f"{self.product}, {day_said(self.on)}, {by}"


@dataclass(frozen=True)
class Objection:
    """What speaks against a round: the finding of the plan, and what used up what it lacks.

    ``advice`` is what to do about it in the programme.
    """

    finding: Finding
    used_up_by: tuple[UsedUp, ...] = ()
    advice: str = ""


@dataclass(frozen=True)
class RoundVerdict:
    """A round, the day it was asked for in the end, and what was found.

    ``plan`` is None where none could be made; then ``faults`` say why. ``closed_until`` is
    the day that its first day was moved for. ``entries`` are what later rounds find there.
    """

    asked: RoundAsked
    day: date
    outcome: Outcome
    objections: tuple[Objection, ...] = ()
    cautions: tuple[Finding, ...] = ()
    see_to: tuple[Finding, ...] = ()
    moved_for: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()
    plan: Plan | None = None
    entries: tuple[Json, ...] = ()

    @property
    def counts(self) -> bool:
        """Whether later rounds count it as done."""
        return bool(self.entries)
