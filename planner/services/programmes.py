"""Keeping programmes."""

from collections.abc import Sequence

from django.db import transaction

from planner.core.season.windows import day_of_every_year
from planner.models import Programme, Round
from planner.selectors.programmes import window_of
from properties.core.errors import Refused

#: Whether days make a window does not depend on the year.
_ANY_YEAR = 2027
MOST_ROUNDS = 24


@transaction.atomic
def keep_programme(
    programme: Programme, *, rounds: Sequence[Round], opened: int | None = None
) -> Programme:
    """Keep a programme with its rounds in the order given.

    ``opened`` is the version that somebody has opened and changed; refused where there is
    a newer one by now.

    A round that was kept before stays the same row; one that is no longer given goes, and
    its jobs stay. Refused, at the field of the round such as ``to_day_2``, where a round
    cannot be right.
    """
    if not rounds:
        raise Refused("name_1", "This programme has no round.", "Enter its first round.")
    if len(rounds) > MOST_ROUNDS:
        remedy = "Make two programmes of it."
        raise Refused("", f"A programme has {MOST_ROUNDS} rounds at most.", remedy)
    programme.full_clean()
    for position, each in enumerate(rounds, start=1):
        _check(each, programme, position=position)
    _check_names(rounds)
    _count_up(programme, opened)
    programme.save()
    programme.rounds.exclude(pk__in=[each.pk for each in rounds if each.pk]).delete()
    for position, each in enumerate(rounds, start=1):
        each.programme, each.position = programme, position
        each.full_clean()
        each.save()
    return programme


def _count_up(programme: Programme, opened: int | None) -> None:
    if not programme.pk:
        return
    present = Programme.objects.select_for_update().get(pk=programme.pk)
    if opened is not None and present.version != opened:
        raise Refused(
            "",
            "Somebody else has changed this programme since you opened it.",
            "Open it in another tab, and make your change there. Nothing was overwritten.",
        )
    programme.version = present.version + 1


def _check(each: Round, programme: Programme, *, position: int) -> None:
    try:
        window_of(each, _ANY_YEAR)
        if each.opened_by == "degree_days":
            day_of_every_year(each.counted_from, field="counted_from")
    except Refused as refused:
        raise refused.at(f"{refused.field}_{position}") from None
    hand_tool = each.hand_tool or each.machine
    if {each.mix.firm_id, each.machine.firm_id, hand_tool.firm_id} != {programme.firm_id}:
        raise Refused(f"mix_{position}", "This is not of your firm.", "Choose one of the list.")


def _check_names(rounds: Sequence[Round]) -> None:
    known: set[str] = set()
    for position, each in enumerate(rounds, start=1):
        name = each.name.strip().casefold()
        if name in known:
            raise Refused(
                f"name_{position}",
                f"Two rounds are called “{each.name}”.",
                "Give each a name of its own, such as Feed 1 and Feed 2.",
            )
        known.add(name)
