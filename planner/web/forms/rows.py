"""Rows of a form that are added, taken out and moved without losing what was typed.

The fields of row 1 begin with ``r1-``, and ``rounds`` tells how many rows there are.
"""

from django.http import QueryDict

MOST_ROWS, FIRST_ROWS = 24, 3


def count_of(posted: QueryDict) -> int:
    """How many rows were sent."""
    typed = str(posted.get("rounds", ""))
    return min(MOST_ROWS, int(typed)) if typed.isdecimal() and len(typed) < 4 else FIRST_ROWS


def rearranged(posted: QueryDict, act: str) -> QueryDict:
    """Put the rows that were typed into the order that is asked for."""
    order = _order(count_of(posted), act)
    moved = QueryDict(mutable=True)
    for key in posted:
        if not (key.startswith("r") and "-" in key):
            moved.setlist(key, posted.getlist(key))
    for new, old in enumerate(order, start=1):
        for key in posted:
            if old and key.startswith(f"r{old}-"):
                moved.setlist(f"r{new}-{key.partition('-')[2]}", posted.getlist(key))
    moved["rounds"] = str(len(order))
    return moved


def _order(count: int, act: str) -> list[int]:
    """The rows by their old numbers, 0 for a new one; an act that is not known moves nothing."""
    order = list(range(1, count + 1))
    what, _, number = act.partition(":")
    if what == "add" and count < MOST_ROWS:
        return [*order, 0]
    row = int(number) if number.isdecimal() and len(number) < 4 else 0
    if row not in order:
        return order
    if what == "remove" and count > 1:
        order.remove(row)
    other = {"up": row - 1, "down": row + 1}.get(what, 0)
    if other in order:
        order[row - 1], order[other - 1] = order[other - 1], order[row - 1]
    return order
