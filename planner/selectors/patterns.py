"""What spread patterns come to, and what another pressure or speed would do."""

from dataclasses import dataclass

from django.db.models import QuerySet

from planner.core.machine.pattern import (
    Mode,
    Overlap,
    Pattern,
    overlaps_of,
    pattern_of,
    widest_swath,
)
from planner.core.workings.pattern import half_rate_figure, overlap_figure
from planner.models import PatternTest
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure
from properties.models import Person

WORDS = {Mode.BACK_AND_FORTH: "Back and forth", Mode.ROUND_AND_ROUND: "Round and round"}


def patterns_of(person: Person) -> QuerySet[PatternTest]:
    """List the patterns of the machines of a person's firm."""
    made = PatternTest.objects.filter(machine__firm=person.firm_id)
    return made.select_related("machine", "done_by")


@dataclass(frozen=True)
class Row:
    """One spacing of passes: how the ground varies in either mode, in percent."""

    spacing: Quantity
    back_percent: float
    round_percent: float
    is_even_back: bool
    is_even_round: bool


@dataclass(frozen=True)
class Driven:
    """A mode, its widest even swath and how that varies; None where none is even enough."""

    words: str
    swath: Quantity | None
    variation: Figure | None


@dataclass(frozen=True)
class PatternSheet:
    """What a pattern comes to."""

    pattern: Pattern
    half_rate: Figure
    driven: tuple[Driven, ...]
    rows: tuple[Row, ...]


def pattern_sheet(test: PatternTest) -> PatternSheet:
    """Work out the swaths of a pattern, with their working, in the unit the pans were told in."""
    pattern = pattern_of(pan_spacing_m=test.pan_spacing.si, catches=test.catches)
    ceiling, unit = test.ceiling_percent / 100, test.pan_spacing.unit
    by_mode = {mode: overlaps_of(pattern, mode=mode) for mode in Mode}
    back, round_ = by_mode[Mode.BACK_AND_FORTH], by_mode[Mode.ROUND_AND_ROUND]
    return PatternSheet(
        pattern,
        half_rate_figure(pattern, length_unit=unit),
        tuple(_driven(mode, each, test, pattern) for mode, each in by_mode.items()),
        tuple(
            Row(
                quantity_of_si(one.spacing_m, unit),
                100 * one.variation,
                100 * other.variation,
                one.variation <= ceiling,
                other.variation <= ceiling,
            )
            for one, other in zip(back, round_, strict=True)
        ),
    )


def _driven(
    mode: Mode, overlaps: tuple[Overlap, ...], test: PatternTest, pattern: Pattern
) -> Driven:
    widest = widest_swath(overlaps, ceiling=test.ceiling_percent / 100)
    if widest is None:
        return Driven(WORDS[mode], None, None)
    swath = quantity_of_si(widest.spacing_m, test.pan_spacing.unit)
    name = f"{WORDS[mode]} at {swath.value:.6g} {swath.unit}: coefficient of variation"
    figure = overlap_figure(pattern, widest, name=name, unit=test.unit)
    return Driven(WORDS[mode], swath, figure)
