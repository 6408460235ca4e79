"""The check in advance: every round of a season asked in order, through the one door.

No limit is worked out here. A round is a plan request of its day, with the earlier rounds
added to what the place has had; what the plan says of it is told.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from heapq import heapify, heappop, heappush

from planner.core.plan import Plan, plan_from_json
from planner.core.put_down import put_down
from planner.core.report import plan_as_json
from planner.core.report.quantities import Json
from planner.core.request.past import MOST_APPLICATIONS
from planner.core.season.objections import LEFT_OUT, objections_to
from planner.core.season.verdicts import (
    OF_THE_DAY,
    OF_THE_SEASON,
    Outcome,
    RoundAsked,
    RoundVerdict,
)
from properties.core.errors import FaultsFound, Refused

#: A round is moved so often at most, before it is told as it stands.
MOST_MOVES = 4


@dataclass(frozen=True)
class Earlier:
    """What a round of the season puts down on a day, as a request tells the past."""

    round: RoundAsked
    day: date
    entry: Json


def check_season(rounds: Iterable[RoundAsked]) -> tuple[RoundVerdict, ...]:
    """Ask for every round of a season in advance, each after those before it.

    Parameters
    ----------
    rounds : Iterable[RoundAsked]
        The rounds. [-]

    Returns
    -------
    tuple[RoundVerdict, ...]
        What was found about each, in the order of their days. [-]

    Raises
    ------
    Nothing
        A round that no plan can be made for says why.

    References
    ----------
    The labels and the rules, through ``plan``. Our own rule: a round that must not be done
    is not counted in the rounds after it.
    """
    waiting = [_Turn(asked.day, asked.number, asked) for asked in rounds]
    heapify(waiting)
    earlier: list[Earlier] = []
    verdicts = []
    while waiting:
        turn = heappop(waiting)
        found = _asked(turn, earlier)
        if isinstance(found, _Turn):
            # What moves to a later day is asked after the rounds before that day.
            heappush(waiting, found)
            continue
        verdicts.append(found)
        earlier += [Earlier(found.asked, found.day, entry) for entry in found.entries]
    return tuple(verdicts)


def with_earlier(request: Json, earlier: Sequence[Earlier]) -> Json:
    """Add rounds of the season to what a place has had before the day of a request.

    Parameters
    ----------
    request : dict
        A plan request, or a question about a place. [-]
    earlier : Sequence[Earlier]
        The rounds so far. [-]

    Returns
    -------
    dict
        The request with a longer history. Where nobody has told the place's own, it is
        known from the first of these rounds on. [-]

    Raises
    ------
    Nothing
        Every request can be added to.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    counting = [each for each in earlier if each.day.isoformat() <= request["on"]]
    if not counting:
        return request
    had = [*request.get("history", ()), *(each.entry for each in counting)][-MOST_APPLICATIONS:]
    since = {} if "history" in request else {"history_since": _first(counting)}
    return request | {"history": had} | since


def _first(earlier: Sequence[Earlier]) -> str:
    return min(each.day for each in earlier).isoformat()


@dataclass(frozen=True, order=True)
class _Turn:
    """A round that waits to be asked for on a day, and why it was moved there."""

    day: date
    number: int
    asked: RoundAsked = field(compare=False)
    moves: int = field(default=0, compare=False)
    moved_for: tuple[str, ...] = field(default=(), compare=False)


def _asked(turn: _Turn, earlier: Sequence[Earlier]) -> "RoundVerdict | _Turn":
    asked = turn.asked
    try:
        plan = _plan(turn, earlier)
    except Refused as refused:
        return RoundVerdict(asked, turn.day, Outcome.UNKNOWN, faults=(str(refused),))
    except FaultsFound as found:
        faults = tuple(str(fault) for fault in found.faults)
        return RoundVerdict(asked, turn.day, Outcome.UNKNOWN, faults=faults)
    later = _better_day(asked, plan) if turn.moves < MOST_MOVES else None
    if later is None:
        return _told(turn, plan, earlier)
    reasons = tuple(dict.fromkeys((*turn.moved_for, *_reasons(plan))))
    return _Turn(later, turn.number, asked, turn.moves + 1, reasons)


def _plan(turn: _Turn, earlier: Sequence[Earlier]) -> Plan:
    return plan_from_json(with_earlier(turn.asked.request_on(turn.day), earlier))


def _better_day(asked: RoundAsked, plan: Plan) -> date | None:
    """The day within the window on which all ground is open; else the first with any open."""
    closed = [face for face in plan.ground.faces.faces if not face.is_open]
    days = sorted(face.open_on for face in closed if face.open_on is not None)
    if days and len(days) == len(closed) and asked.window.holds(days[-1]):
        return days[-1]
    nothing_open = len(closed) == len(plan.ground.faces.faces)
    if days and nothing_open and asked.window.holds(days[0]):
        return days[0]
    return None


def _told(turn: _Turn, plan: Plan, earlier: Sequence[Earlier]) -> RoundVerdict:
    asked, day = turn.asked, turn.day
    counting = [each.round for each in earlier if each.day <= day]
    objections = objections_to(plan, asked, rounds=counting)
    refused = any(each.finding in plan.refusals for each in objections)
    cautions = (each for each in plan.warnings if each.code in OF_THE_SEASON)
    return RoundVerdict(
        asked,
        day,
        _outcome(plan, refused=refused, moved=turn.moves > 0),
        objections,
        cautions=tuple(each for each in cautions if each.code not in LEFT_OUT),
        see_to=tuple(each for each in plan.refusals if each.code in OF_THE_DAY),
        moved_for=turn.moved_for,
        plan=plan,
        entries=() if refused else tuple(_entries(plan, asked, day)),
    )


def _outcome(plan: Plan, *, refused: bool, moved: bool) -> Outcome:
    if refused:
        return Outcome.REFUSED
    if any(each.code in LEFT_OUT for each in plan.warnings):
        return Outcome.PART
    return Outcome.LATER if moved else Outcome.FITS


def _reasons(plan: Plan) -> tuple[str, ...]:
    closures = (closure.reason for face in plan.ground.faces.faces for closure in face.closures)
    return tuple(dict.fromkeys(closures))


def _entries(plan: Plan, asked: RoundAsked, day: date) -> Iterable[Json]:
    for each in put_down(plan_as_json(plan)):
        yield {
            "on": day.isoformat(),
            "product": each.product,
            "rate": each.rate.to_the_last_digit,
            "where": each.shape,
            **asked.contents.get(each.product, {}),
        }
