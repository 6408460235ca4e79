"""What speaks against a round, and which rounds or records used up what it lacks."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from planner.core.amounts.feeding import feeding_of
from planner.core.findings import Finding
from planner.core.limits import Face
from planner.core.nutrient.limits import Checked
from planner.core.past import PastApplication
from planner.core.plan import Plan
from planner.core.season.verdicts import OF_THE_DAY, Objection, RoundAsked, UsedUp
from planner.core.shown import day_said, listed

CLOSED = frozenset({"ground_closed", "nothing_open"})
#: Warnings of ground that a round leaves out.
LEFT_OUT = frozenset({"ground_closed", "turf_spared"})


def objections_to(
    plan: Plan, asked: RoundAsked, *, rounds: Sequence[RoundAsked]
) -> tuple[Objection, ...]:
    """Find what speaks against a plan of a round, and what used up what it lacks.

    Parameters
    ----------
    plan : Plan
        The plan of the round on its day. [-]
    asked : RoundAsked
        The round. [-]
    rounds : Sequence[RoundAsked]
        The rounds that the last entries of its history are of, entry by entry. [-]

    Returns
    -------
    tuple[Objection, ...]
        Every refusal that is not of the day alone, and all ground that is left out. [-]

    Raises
    ------
    Nothing
        A plan that nothing speaks against has none.

    References
    ----------
    The plan names the clauses.
    """
    told = [each for each in plan.refusals if each.code not in OF_THE_DAY]
    told += [each for each in plan.warnings if each.code in LEFT_OUT]
    blame = _Blame(plan, asked, rounds)
    return tuple(blame.of(finding) for finding in told)


class _Blame:
    """Finds, for a finding of a plan, the applications that led to it."""

    def __init__(self, plan: Plan, asked: RoundAsked, rounds: Sequence[RoundAsked]) -> None:
        self.asked = asked
        history = plan.request.past.history or ()
        own = len(history) - len(rounds)
        self.plan = plan
        self.by_ref = dict(zip((each.ref for each in history[own:]), rounds, strict=True))

    def of(self, finding: Finding) -> Objection:
        """Join a finding with what used up what it lacks."""
        if finding.code in CLOSED:
            closed = [face for face in self.plan.ground.faces.faces if not face.is_open]
            used = self._used(each for face in closed for each in _closing(face))
            return Objection(finding, used, _when_open(_first_open(closed), self.asked, used))
        if finding.code == "rate_above_room":
            used = self._used(self._over_room(finding))
            return Objection(finding, used, _less(used))
        if finding.code == "nutrient_over_limit":
            used = self._used(self._over_nutrients())
            return Objection(finding, used, _less(used))
        return Objection(finding)

    def _used(self, applications: Iterable[PastApplication]) -> tuple[UsedUp, ...]:
        found = {each.ref: each for each in applications}
        used = [
            UsedUp(each.product, each.applied_on, each.rate, self.by_ref.get(each.ref))
            for each in found.values()
        ]
        # Each tool has put it down for itself; it is told once.
        once = {each.words: each for each in used}
        return tuple(sorted(once.values(), key=lambda each: (each.on, each.product)))

    def _over_room(self, finding: Finding) -> Iterator[PastApplication]:
        for part in self.plan.parts:
            for tightest in part.tightest:
                if tightest.is_passed and finding.product in tightest.ceiling.shares:
                    yield from tightest.standing.counted

    def _over_nutrients(self) -> Iterator[PastApplication]:
        """What brought, in the time that a limit counts, a nutrient that would be too much."""
        request = self.plan.request
        for part in self.plan.parts:
            for checked in feeding_of(part, request.nutrient_rules).checked:
                if checked.allowed is False and checked.limit.per.counts_back:
                    yield from _with_nutrient(checked, request.past.history or (), request.on)


def _with_nutrient(
    checked: Checked, history: Iterable[PastApplication], on: date | None
) -> Iterator[PastApplication]:
    for each in history:
        counts = on is not None and checked.limit.per.counts(each.applied_on, on=on)
        if counts and each.nutrient(checked.limit.nutrient):
            yield each


def _closing(face: Face) -> Iterator[PastApplication]:
    """What counts against a limit that closes a face."""
    for standing in face.standings:
        if standing.closures:
            latest = [each for each in face.applications if each.applied_on == standing.last_on]
            yield from standing.counted
            yield from (each for each in latest if standing.ceiling.counts(each))


def _first_open(closed: Sequence[Face]) -> date | None:
    return min((face.open_on for face in closed if face.open_on is not None), default=None)


def _when_open(opens_on: date | None, asked: RoundAsked, used: Sequence[UsedUp]) -> str:
    if opens_on is None:
        return f"Nobody can say when it opens. {_less(used)}"
    if opens_on <= asked.window.last:
        return f"It opens on {day_said(opens_on)}: do it from then on."
    ends = f"after this round’s last day, {day_said(asked.window.last)}"
    return (
        f"It opens on {day_said(opens_on)}, {ends}: move the round to then. {_less(used)}".strip()
    )


def _less(used: Sequence[UsedUp]) -> str:
    """What else could give: the rounds of the season that used it up."""
    rounds = list(dict.fromkeys(each.round.words for each in used if each.round is not None))
    return f"Or use less in {listed(rounds)}, or take it out." if rounds else ""
