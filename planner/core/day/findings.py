"""What is found about a route: what does not fit, what has drifted, where a leftover may go."""

from collections.abc import Iterator, Sequence

from planner.core.day.filling import RouteLoad, TopUp, concentration
from planner.core.day.gauge_findings import gauge_findings
from planner.core.day.leftover import Candidate, Ending
from planner.core.day.refill import dilute_to_l
from planner.core.day.splitting import reloads_missing, too_long
from planner.core.day.whole import Day
from planner.core.findings import Finding, Findings
from planner.core.shown import Shown, listed, said
from properties.core.units import quantity_of_si

_DIGITS = 3


def day_findings(day: Day) -> Findings:
    """Say what is found about a route beside what is found about its lawns.

    Parameters
    ----------
    day : Day
        The route worked out. [L, L or kg, m²]

    Returns
    -------
    Findings
        A refusal where it cannot be driven like that, warnings otherwise. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The labels; our own rules for what a gauge shows.
    """
    gauge = gauge_findings(day)
    refill_loads = () if day.refill is None else day.refill.loads
    return Findings(
        (
            *_points(day),
            *_weight(day),
            *gauge.warnings,
            *_leftover(day),
        ),
        (
            *_too_long(day),
            *gauge.refusals,
            *_too_strong(refill_loads or day.loads, day.shown),
        ),
    )


def _points(day: Day) -> Iterator[Finding]:
    for before, point in day.route.reload_points:
        if point.why_not:
            message = (
                f"{point.name} (after {_stop(day, before - 1)}) is no reload point: "
                f"{point.why_not}. Fill somewhere else."
            )
            yield Finding("reload_not_permitted", message)


def _weight(day: Day) -> Iterator[Finding]:
    limit = day.limits.weight_limit
    if limit is not None and day.limits.spray_kg_per_l is None:
        yield Finding(
            "weight_of_water_only",
            f"The limit of {limit} is taken for water, 8.34 lb/gal. Spray with heavy products in "
            "it weighs more, and how much is not known here: leave room, or copy the density "
            "from the label.",
        )


def _too_long(day: Day) -> Iterator[Finding]:
    """Tell each stretch that needs more than a load, and where it would have to be reloaded."""
    done = None if day.refill is None else day.refill.done
    if day.loads and (done is None or day.refill is None or day.refill.loads):
        return
    first = 0 if done is None or not day.loads else done.load.need.stops[1]
    output = day.output.l_per_m2 if done is None else done.output_l_per_m2
    if output <= 0 or first >= len(day.stops):
        return
    volumes_l = [area_m2 * output for area_m2 in day.areas_m2[first:]]
    points = [stop - first for stop in day.reload_before]
    most_l = day.limits.most_l
    for begin, end in too_long(volumes_l, reload_before=points, most=most_l):
        missing = reloads_missing(volumes_l, stretch=(begin, end), most=most_l)
        spray = said(day.shown.spray_of(sum(volumes_l[begin:end])))
        message = (
            f"{_stretch(day, first + begin, first + end)} needs {spray}, and one load sprays "
            f"{said(day.shown.spray_of(most_l))}. {_remedy(day, first, missing, volumes_l)}"
        )
        yield Finding("route_stretch_too_long", message)


def _stretch(day: Day, begin: int, end: int) -> str:
    if end - begin == 1:
        return _begun(_stop(day, begin))
    return f"The stretch from {_stop(day, begin)} to {_stop(day, end - 1)}"


def _remedy(day: Day, first: int, missing: Sequence[int], volumes_l: Sequence[float]) -> str:
    before = [f"before {_stop(day, first + stop)}" for stop in missing]
    places = [f"A reload point is missing {listed(before)} at the latest."] if before else []
    large = [
        _stop(day, first + stop)
        for stop, volume_l in enumerate(volumes_l)
        if volume_l > day.limits.most_l
    ]
    if large:
        places.append(
            f"{_begun(listed(large))} needs more than a load by itself: enter it in parts, "
            "the lawn again after a reload point, or take a larger tank."
        )
    return " ".join(places)


def _too_strong(loads: Sequence[RouteLoad], shown: Shown) -> Iterator[Finding]:
    for load in loads:
        for each in load.products:
            if each.is_too_strong:
                yield _strong(load, each, shown)


def _strong(load: RouteLoad, each: TopUp, shown: Shown) -> Finding:
    product, unit = each.product, shown.amount_unit(each.product.rate)
    per_l = concentration(product, output_l_per_m2=load.need.output_l_per_m2)
    message = (
        f"{product.name}: the {said(shown.spray_of(load.carried.volume_l))} in the tank already "
        f"hold {said(quantity_of_si(each.carried, unit))}, and load {load.need.number} should hold "
        f"{said(quantity_of_si(each.wanted, unit))} in all. Nothing can be taken out: dilute it to "
        f"{said(shown.spray_of(dilute_to_l(each.carried, per_l=per_l)))} or more for more ground, "
        "or use it where a stronger mix is allowed."
    )
    return Finding("leftover_too_strong", message, product=product.name)


def _leftover(day: Day) -> Iterator[Finding]:
    ending = day.ending
    if ending is None or not ending.left.volume_l or not ending.left.amounts:
        return
    if ending.place is not None:
        yield _placed(ending, ending.place, day.shown)
        return
    if ending.shares:
        yield _shared(ending, day.shown)
        return
    spray = said(day.shown.spray_of(ending.left.volume_l))
    some = [each for each in ending.candidates if each.has_room_for_some]
    remedy = "Keep it, marked, for a lawn that its label allows; never pour it out."
    if some:
        best = max(some, key=lambda each: each.room_share)
        remedy = (
            f"{best.stop.asked.name} could take {best.room_share:.0%} of it, and all lawns "
            "together not the whole: keep the rest, marked, for the next. Never pour it out."
        )
    message = f"No lawn of the route may take all of the {spray} that are left. {remedy}"
    yield Finding("leftover_has_no_place", message)


def _shared(ending: Ending, shown: Shown) -> Finding:
    onto = [
        f"{said(shown.spray_of(ending.left.volume_l * share.part), digits=_DIGITS)} onto "
        f"{share.lawn.stop.asked.name}"
        for share in ending.shares
    ]
    message = (
        f"No lawn may take all of the {said(shown.spray_of(ending.left.volume_l))} that are left. "
        f"Share it: flush {listed(onto)}, with clean water, spread evenly. Each part must stand in "
        "the record of its lawn."
    )
    return Finding("leftover_shared", message)


def _placed(ending: Ending, place: Candidate, shown: Shown) -> Finding:
    gives = [
        f"{said(shown.rate_of(each.product.rate, each.adds), digits=_DIGITS)} of "
        f"{each.product.name}, {said(shown.rate_of(each.product.rate, each.total))} in all"
        for each in place.products
    ]
    message = (
        f"Flush the {said(shown.spray_of(ending.left.volume_l))} that are left onto "
        f"{place.stop.asked.name} with clean water, spread evenly: that adds {listed(gives)}. It "
        f"must stand in the record of {place.stop.asked.name}."
    )
    return Finding("leftover_goes_in_a_record", message)


def _stop(day: Day, position: int) -> str:
    if position < 0:
        return "the start"
    return day.stops[position].asked.name


def _begun(words: str) -> str:
    """Begin a sentence with a name, which keeps its own capitals."""
    return words[:1].upper() + words[1:]
