"""What a customer must know around a visit: how long to stay off, water, weather."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any

from planner.core.quote.said import quantity_said
from planner.core.shown import listed
from properties.core.units import Quantity, parse_quantity

Json = dict[str, Any]

ALWAYS = (
    (
        "Before we come: take toys, bowls, chairs and laundry off the lawn, and shut the windows "
        "beside it."
    ),
    "Keep people and pets off the lawn while we work.",
)
NEW_THINGS = (
    "Tell us before we come if there is something new to protect: a pond, a well, a vegetable "
    "bed, a hive, a sandbox."
)


def cautions_of(visits: Sequence[tuple[str, Json, Json]]) -> tuple[str, ...]:
    """Say what the labels of all visits ask of whoever lives there.

    Parameters
    ----------
    visits : Sequence of (str, dict, dict)
        The name of each visit, its request and its plan. [-]

    Returns
    -------
    tuple of str
        Sentences; one that is not for every visit names those it is for. [-]

    Raises
    ------
    Nothing
        A label that is silent asks for nothing.

    References
    ----------
    The labels, as they were copied.
    """
    named: dict[str, list[str]] = {}
    for name, request, plan in visits:
        for sentence in _of_visit(request, plan):
            known = named.setdefault(sentence, [])
            if name not in known:
                known.append(name)
    everywhere = {name for name, _, _ in visits}
    told = [
        sentence if set(names) == everywhere else f"{listed(names)}: {sentence}"
        for sentence, names in named.items()
    ]
    return (*ALWAYS, *told, NEW_THINGS)


def _of_visit(request: Json, plan: Json) -> Iterator[str]:
    keep_off = plan.get("keep_off")
    if keep_off is not None:
        yield _stay_off(keep_off)
    facts = plan.get("label_facts") or []
    for fact, words in _FACTS.items():
        longest = _longest(each[fact] for each in facts if each.get(fact))
        if longest is not None:
            yield words(longest)
    yield from _water_in(facts)
    if highest := _highest_wind(request):
        yield f"We do not spray in more than {highest} of wind; we come on another day instead."


def _stay_off(keep_off: Json) -> str:
    time = keep_off.get("time")
    parts = [f"for at least {quantity_said(time)}"] if time else []
    parts += ["until the spray has dried"] if keep_off.get("until_dry") else []
    return f"Afterwards people and pets stay off the lawn {' and '.join(parts)}."


_FACTS: Mapping[str, Callable[[str], str]] = {
    "irrigation_hold": lambda time: f"Do not water the lawn for {time} afterwards.",
    "rain_fast": lambda time: (
        f"It must stay dry for {time} afterwards; if rain is near, we come on another day."
    ),
}


def _longest(told: Iterable[Json]) -> str | None:
    known = [Quantity(each["value"], each["unit"]) for each in told]
    if not known:
        return None
    most = max(known, key=lambda each: each.si)
    return quantity_said({"value": most.value, "unit": most.unit})


def _water_in(facts: Iterable[Json]) -> Iterator[str]:
    for each in facts:
        told = each.get("water_in")
        if told is not None:
            depth = quantity_said(told["depth"]) if told.get("depth") else "as we tell you"
            within = f" within {quantity_said(told['within'])}" if told.get("within") else ""
            yield f"Water it in afterwards, {depth}{within}, unless rain does it."


def _highest_wind(request: Json) -> str | None:
    """The wind above which the firm or a label holds spraying; granules are not sprayed."""
    if "tanks" not in request["machine"]:
        return None
    limits = [item.get("label", {}).get("wind_max") for item in request["mix"]]
    limits.append((request.get("wind_rule") or {}).get("hold_above"))
    known = [parse_quantity(limit) for limit in limits if limit]
    if not known:
        return None
    least = min(known, key=lambda each: each.si)
    return quantity_said({"value": least.value, "unit": least.unit})
