"""Reading no-spray rules and the day they are asked for."""

from datetime import date
from functools import partial

from planner.core.label.methods import Method
from planner.core.request.distances import DISTANCES, protected_kind
from planner.core.request.reader import Members, open_object
from planner.core.setback_rules import SetbackRule
from properties.core.units import Dimension

KNOWN = (
    *("kind", "method", "distance", "downwind", "source"),
    *("from", "to", "example", "place"),
)

MOST_RULES = 1000


def read_rules(whole: Members, *, on: date | None) -> tuple[SetbackRule, ...]:
    """Read the no-spray rules of a request.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]
    on : date or None
        The day of the work, if it was given and could be read. [-]

    Returns
    -------
    tuple[SetbackRule, ...]
        The rules that could be read. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    rules = []
    for path, item in whole.items("setback_rules", most=MOST_RULES, least=0):
        members = open_object(whole.faults, path, item, KNOWN)
        rule = None if members is None else _rule(members)
        if members is None or rule is None:
            continue
        _check_days(members, rule, on, asked=whole.has("on"))
        rules.append(rule)
    return tuple(rules)


def _rule(members: Members) -> SetbackRule | None:
    members.want("kind", "Write which kind of feature is protected, for example flower_bed.")
    members.want("distance", "Write the distance to keep, for example 6 ft.")
    members.want("source", "Write where the rule comes from: a law, a label, your firm.")
    kind = None
    if members.has("kind"):
        word, where = members.values["kind"], members.path_of("kind")
        kind = members.faults.trying(partial(protected_kind, word, where))
    method = members.choice("method", tuple(Method))
    distance = members.quantity("distance", Dimension.LENGTH, believable=DISTANCES)
    downwind = members.quantity("downwind", Dimension.LENGTH, believable=DISTANCES)
    first_day, last_day = members.day("from"), members.day("to")
    source, place = members.name("source"), members.name("place")
    example = members.flag("example")
    if kind is None or distance is None or source is None:
        return None
    return SetbackRule(
        kind,
        distance,
        source,
        method=None if method is None else Method(method),
        downwind=downwind,
        first_day=first_day,
        last_day=last_day,
        example=example,
        place=place,
    )


def _check_days(members: Members, rule: SetbackRule, on: date | None, *, asked: bool) -> None:
    first, last = rule.first_day, rule.last_day
    if first is not None and last is not None and first > last:
        members.faults.add(
            members.path_of("to"),
            f"This rule ends on {last} and begins on {first}.",
            "Write the first day in “from” and the last day in “to”.",
        )
    if rule.is_dated and on is None and not asked:
        members.faults.add(
            members.path_of("from" if first is not None else "to"),
            "This rule holds on some days only, and the request does not say on which day it is.",
            'Add the day of the work, for example "on": "2026-05-20".',
        )
