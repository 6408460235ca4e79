"""Founding a firm, with example distances to check, and changing its standing facts."""

from datetime import datetime

from django.db import transaction

from properties.core.errors import Refused
from properties.core.outlines.members import LONGEST_SETBACK_M
from properties.core.outlines.placement import LARGEST_ERROR_M, SMALLEST_ERROR_M
from properties.core.units import Quantity, parse_quantity
from properties.models import Firm, Person, PositionError, SetbackRule, TileLayer, WindRule
from properties.selectors.rules import example_setbacks


@transaction.atomic
def found_firm(*, name: str, units: str, at: datetime) -> Firm:
    """Open a firm. It starts with example distances that nobody has checked yet."""
    firm = Firm(name=name, units=units, founded_at=at)
    firm.full_clean()
    firm.save()
    _start_wind_rule(firm)
    _start_position_errors(firm)
    for kind, example in example_setbacks().items():
        rule = SetbackRule(
            firm=firm,
            kind=kind,
            distance=parse_quantity(example[units]),
            source=example["source"],
            from_on=at.date(),
        )
        rule.full_clean()
        rule.save()
    return firm


def _start_wind_rule(firm: Firm) -> None:
    """Give a firm a cautious rule of wind to check."""
    rule = WindRule(
        firm=firm,
        half_angle=Quantity(45.0, "deg"),
        hold_above=Quantity(10.0, "mph"),
        calm_below=Quantity(3.0, "mph"),
        source="Example, to be checked locally: Minnesota Department of Agriculture, Drift "
        "Mitigation (label maxima of 10 to 15 mph); at least 3 mph is common practice",
    )
    rule.full_clean()
    rule.save()


#: Examples to be checked: nobody's corner is out by a law of nature.
EXAMPLE_POSITION_ERRORS = {
    "imagery": (Quantity(2.0, "ft"), "common practice for a sharp picture; more under trees"),
    "walked": (Quantity(15.0, "ft"), "field guides put a telephone at 3 to 15 m"),
    "tape": (Quantity(0.3, "ft"), "common practice with a tape on turf"),
}


def _start_position_errors(firm: Firm) -> None:
    """Give a firm cautious errors of position to check."""
    for measured_by, (error, source) in EXAMPLE_POSITION_ERRORS.items():
        row = PositionError(
            firm=firm,
            measured_by=measured_by,
            error=error,
            source=f"Example, to be checked locally: {source}",
        )
        row.full_clean()
        row.save()


#: Above any wind in which somebody could stand; only a slip of the unit gives more.
STRONGEST_WIND_M_PER_S = 100.0


@transaction.atomic
def set_position_error(*, person: Person, row: PositionError, at: datetime) -> PositionError:
    """Keep an error of position; whoever sets it has checked it."""
    if not SMALLEST_ERROR_M <= row.error.si <= LARGEST_ERROR_M:
        raise Refused(
            "error",
            f"{row.error} is not how far a measured corner may be out.",
            f"Write one standard deviation, from 1 mm to {LARGEST_ERROR_M:.0f} m.",
        )
    row.checked_by, row.checked_on = person, at.date()
    row.full_clean()
    row.save()
    return row


@transaction.atomic
def set_wind_rule(*, person: Person, rule: WindRule, at: datetime) -> WindRule:
    """Keep the rule of wind; whoever sets it has checked it."""
    for name in ("hold_above", "calm_below"):
        wind: Quantity = getattr(rule, name)
        if wind.si > STRONGEST_WIND_M_PER_S:
            raise Refused(
                name,
                f"{wind} is not a wind that anybody works in.",
                "Check the number and its unit.",
            )
    rule.checked_by, rule.checked_on = person, at.date()
    rule.full_clean()
    rule.save()
    return rule


#: What a customer reads of the firm: the head of its letters, and what it counts in.
HEAD = {"address", "phone", "email", "licence", "currency"}


@transaction.atomic
def change_firm(
    firm: Firm, *, name: str, units: str, labels_need_check: bool | None = None, **head: str
) -> Firm:
    """Change the name, the units or the habits of a firm, and what heads its letters."""
    for fact in HEAD & head.keys():
        setattr(firm, fact, head[fact])
    firm.name, firm.units = name, units
    if labels_need_check is not None:
        firm.labels_need_check = labels_need_check
    if firm.labels_need_check and firm.people.filter(is_active=True).count() < 2:
        raise Refused(
            "labels_need_check",
            "Nobody else of your firm may sign in, so nobody could compare your labels.",
            "Add a second person first, or leave this off.",
        )
    firm.full_clean()
    firm.save(update_fields=["name", "units", "labels_need_check", *sorted(HEAD)])
    return firm


@transaction.atomic
def add_tile_layer(firm: Firm, **facts: str | int) -> TileLayer:
    """Add a map layer that the firm has the right to use."""
    layer = TileLayer(firm=firm, **facts)
    layer.full_clean()
    layer.save()
    return layer


@transaction.atomic
def set_rule(*, person: Person, rule: SetbackRule, at: datetime) -> SetbackRule:
    """Keep a distance rule; whoever sets it has checked it."""
    for name in ("distance", "downwind"):
        distance: Quantity | None = getattr(rule, name)
        if distance is not None and distance.si > LONGEST_SETBACK_M:
            raise Refused(
                name,
                f"{distance} is not a distance that can be kept.",
                f"A distance lies between 0 and {LONGEST_SETBACK_M:.0f} m.",
            )
    rule.firm = person.firm
    rule.checked_by, rule.checked_on = person, at.date()
    rule.full_clean()
    rule.save()
    return rule
