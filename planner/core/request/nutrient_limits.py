"""Reading limits on nutrients, what a place has had of them this year, and a soil test."""

from datetime import date

from planner.core.nutrient.limits import NutrientLimit, NutrientRules, Per, SoilTest
from planner.core.nutrient.nutrients import Nutrient
from planner.core.request.fertilizer import TARGETS
from planner.core.request.reader import Believable, Members, open_object
from properties.core.units import Dimension, Quantity

KNOWN = ("nutrient_limits", "nutrients_so_far", "nutrients_lately", "soil_test")
KNOWN_OF_LIMIT = (
    *("nutrient", "per", "at_most", "unless", "least_slow_release", "source"),
    *("from", "to", "example", "place"),
)
KNOWN_OF_SOIL_TEST = ("taken", "valid_until", "source")
UNLESS = ("soil_test",)

MOST_LIMITS = 200

LIMITS = Believable(Quantity(0, "g/m2"), Quantity(1, "kg/m2"))
SLOW = Believable(Quantity(0, "%"), Quantity(100, "%"))
#: Shorter than a year; what was had in them is told apart.
LATELY = tuple(per for per in Per if per not in {Per.APPLICATION, Per.YEAR})


def read_nutrient_rules(whole: Members, *, on: date | None) -> NutrientRules:
    """Read what limits nutrients at a place.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]
    on : date or None
        The day of the work, if it was given and could be read. [-]

    Returns
    -------
    NutrientRules
        The limits, what the place has had, the soil test. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    limits = []
    for path, item in whole.items("nutrient_limits", most=MOST_LIMITS, least=0):
        members = open_object(whole.faults, path, item, KNOWN_OF_LIMIT)
        limit = None if members is None else _limit(members)
        if members is None or limit is None:
            continue
        _check_days(members, limit, needs_day=on is None and not whole.has("on"))
        _check_slow_release(members, limit)
        limits.append(limit)
    so_far, lately = _had(whole, "nutrients_so_far"), _lately(whole)
    return NutrientRules(tuple(limits), so_far, _soil_test(whole, on), on, lately)


def _limit(members: Members) -> NutrientLimit | None:
    members.want("nutrient", f"Write one of: {', '.join(Nutrient)}.")
    members.want("per", f"Write one of: {', '.join(Per)}.")
    members.want("at_most", "Write how much is allowed, for example 4.4 g/m2.")
    members.want("source", "Write where the limit comes from: a law, an ordinance, your firm.")
    nutrient = members.choice("nutrient", tuple(Nutrient))
    per = members.choice("per", tuple(Per))
    at_most = members.quantity("at_most", Dimension.MASS_PER_AREA, believable=LIMITS)
    unless = members.choice("unless", UNLESS)
    slow = members.quantity("least_slow_release", Dimension.SHARE, believable=SLOW)
    source, place = members.name("source"), members.name("place")
    first_day, last_day = members.day("from"), members.day("to")
    example = members.flag("example")
    if nutrient is None or per is None or at_most is None or source is None:
        return None
    return NutrientLimit(
        Nutrient(nutrient),
        Per(per),
        at_most,
        source,
        first_day=first_day,
        last_day=last_day,
        place=place,
        unless_soil_test=unless is not None,
        example=example,
        least_slow_release=slow,
    )


def _check_slow_release(members: Members, limit: NutrientLimit) -> None:
    """Only nitrogen has a slow share, and it is that of what is put down at once."""
    if limit.least_slow_release is None:
        return
    if limit.nutrient is not Nutrient.N or limit.per is not Per.APPLICATION:
        members.faults.add(
            members.path_of("least_slow_release"),
            "Slow release lifts a limit on all the nitrogen of one application, and this one is "
            f"on {limit.nutrient} per {limit.per}.",
            "Write it with “N” per “application”, or leave it out.",
        )


def _check_days(members: Members, limit: NutrientLimit, *, needs_day: bool) -> None:
    first, last = limit.first_day, limit.last_day
    if first is not None and last is not None and first > last:
        members.faults.add(
            members.path_of("to"),
            f"This limit ends on {last} and begins on {first}.",
            "Write the first day in “from” and the last day in “to”.",
        )
    if limit.is_dated and needs_day:
        members.faults.add(
            members.path_of("from" if first is not None else "to"),
            "This limit holds on some days only, and the request does not say on which day it is.",
            'Add the day of the work, for example "on": "2026-05-20".',
        )


def _lately(whole: Members) -> dict[Per, dict[Nutrient, Quantity]]:
    inner = whole.within("nutrients_lately", LATELY)
    if inner is None:
        return {}
    return {per: _had(inner, per) for per in LATELY if inner.has(per)}


def _had(whole: Members, name: str) -> dict[Nutrient, Quantity]:
    inner = whole.within(name, TARGETS)
    if inner is None:
        return {}
    read = {
        nutrient: inner.quantity(nutrient, Dimension.MASS_PER_AREA, believable=LIMITS)
        for nutrient in TARGETS
    }
    return {nutrient: rate for nutrient, rate in read.items() if rate is not None}


def _soil_test(whole: Members, on: date | None) -> SoilTest | None:
    inner = whole.within("soil_test", KNOWN_OF_SOIL_TEST)
    if inner is None:
        return None
    inner.want("taken", "Write the day the soil was taken, for example 2025-09-12.")
    inner.want("valid_until", "Write the last day it is valid; many ordinances say three years.")
    taken, valid_until = inner.day("taken"), inner.day("valid_until")
    source = inner.name("source")
    if on is None and not whole.has("on"):
        inner.faults.add(
            inner.path,
            "Whether the soil test is valid depends on the day, which is not given.",
            'Add the day of the work, for example "on": "2026-05-20".',
        )
    if taken is None or valid_until is None:
        return None
    if taken > valid_until:
        inner.faults.add(
            inner.path_of("valid_until"),
            f"This soil test was taken on {taken} and ended on {valid_until}.",
            "Write the last day it is valid.",
        )
    return SoilTest(taken, valid_until, source)
