"""What the gauge of a route tells: what cannot be, what has drifted, where to look."""

from collections.abc import Iterator
from dataclasses import replace

from planner.core.day.gauge import Cause, Diagnosis
from planner.core.day.refill import Done
from planner.core.day.whole import Day
from planner.core.findings import Finding, Findings
from planner.core.label.labels import SAME_NUMBER
from planner.core.shown import Shown, said, said_at_most


def gauge_findings(day: Day) -> Findings:
    """Say what readings of the gauge mean for the route.

    Parameters
    ----------
    day : Day
        The route worked out. [L, L or kg, m²]

    Returns
    -------
    Findings
        Refusals where a reading cannot be believed or too much came down, warnings where
        it is not as planned. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The labels; our own rules for what a gauge shows.
    """
    return Findings(
        (*_below_what_stays(day), *_drifted(day), *_diagnosed(day)),
        (*_reading(day), *_delivered_above(day)),
    )


def _reading(day: Day) -> Iterator[Finding]:
    reading = day.route.reading
    if reading is None or not day.loads:
        return
    if day.refill is None:
        count = "one load" if len(day.loads) == 1 else f"{len(day.loads)} loads"
        message = (
            f"The gauge was read after load {reading.after_load}, and this route has {count}. "
            "Correct the number of the load."
        )
        yield Finding("gauge_not_believable", message)
    elif day.refill.done.used_l <= 0:
        started = said(day.shown.spray_of(day.refill.done.start.volume_l))
        message = (
            f"The gauge shows {reading.in_tank}, and the load began with {started}: nothing would "
            "have been sprayed. Read it again on level ground, and check what the load began with."
        )
        yield Finding("gauge_not_believable", message)


def _below_what_stays(day: Day) -> Iterator[Finding]:
    """A gauge cannot fall below what cannot be sprayed: one of the two is wrong."""
    reading, stays = day.route.reading, day.limits.stays
    read = [] if reading is None else [("", reading.in_tank)]
    read += [
        (f" after {stop.asked.name}", stop.asked.gauge_after)
        for stop in day.stops
        if stop.asked.gauge_after is not None
    ]
    for where, shows in read:
        if shows.si < stays.si * (1 - SAME_NUMBER):
            message = (
                f"The gauge shows {shows}{where}, and {said(day.shown.spray_of(stays.si))} of the "
                "tank cannot be sprayed: one of the two is wrong. Read the gauge again on level "
                "ground, and measure what stays in sump and hose."
            )
            yield Finding("gauge_below_what_stays", message)


def _drifted(day: Day) -> Iterator[Finding]:
    done = _done(day)
    if done is None or not done.has_drifted:
        return
    less = done.drift < 0
    message = (
        f"The output was {said(day.shown.output_of(done.output_l_per_m2))}, "
        f"{abs(done.drift):.1%} {'below' if less else 'above'} the plan’s "
        f"{said(day.shown.output_of(done.load.need.output_l_per_m2))}: it has drifted, or the "
        f"areas are too {'large' if less else 'small'}. Check before you go on: pace and pressure, "
        "a catch of the output, the areas on the map."
    )
    yield Finding("output_drifted", message)
    yield from _delivered_below(done, day.shown)


def _delivered_below(done: Done, shown: Shown) -> Iterator[Finding]:
    for position, each in enumerate(done.load.products):
        rate = done.delivered(each.product, position)
        limits = each.product.label.rate
        if limits.undercut_by(rate):
            message = (
                f"{each.product.name}: load {done.load.need.number} has put down "
                f"{said(shown.rate_of(each.product.rate, rate))}, less than the label’s lowest "
                f"rate ({limits.lowest}). Control may fail there; write it in the records."
            )
            yield Finding("delivered_below_label", message, product=each.product.name)


def _delivered_above(day: Day) -> Iterator[Finding]:
    done = _done(day)
    for position, each in enumerate(() if done is None else done.load.products):
        rate = 0.0 if done is None else done.delivered(each.product, position)
        limits = each.product.label.rate
        if done is not None and limits.exceeded_by(rate):
            message = (
                f"{each.product.name}: load {done.load.need.number} has put down "
                f"{said(day.shown.rate_of(each.product.rate, rate))}, more than the label allows "
                f"({limits.highest} at most). Stop, tell the office, and write it in the records."
            )
            yield Finding("delivered_above_label", message, product=each.product.name)
        elif done is not None and rate > each.cap * (1 + SAME_NUMBER):
            message = (
                f"{each.product.name}: load {done.load.need.number} has put down "
                f"{said(day.shown.rate_of(each.product.rate, rate))}, more than one of its lawns "
                f"could still get ({said_at_most(day.shown.rate_of(each.product.rate, each.cap))})."
                " Stop, tell the office, and write it in the records."
            )
            yield Finding("delivered_above_room", message, product=each.product.name)


def _done(day: Day) -> Done | None:
    """The load that was read, where its reading can be believed."""
    if day.refill is None or day.refill.done.used_l <= 0:
        return None
    return day.refill.done


CAUSES = {
    Cause.CALIBRATION: Finding(
        "gauge_points_to_calibration",
        "Every lawn used {share} than planned, about alike: that is the machine’s output, not "
        "the areas. Catch the output again before you go on.",
    ),
    Cause.AREA: Finding(
        "gauge_points_to_area",
        "Only {stop} used {share} than planned: its area is to be looked at, not the machine. "
        "Measure it again.",
    ),
    Cause.GROWING: Finding(
        "gauge_drifts_on",
        "From lawn to lawn the use moves further from the plan: look at pace, pressure and worn "
        "or blocked tips.",
    ),
    Cause.UNCLEAR: Finding(
        "gauge_unclear",
        "The readings do not fit the plan, and do not tell why: read the gauge at three lawns or "
        "more, on level ground, and catch the output.",
    ),
}


def _diagnosed(day: Day) -> Iterator[Finding]:
    diagnosis = day.diagnosis
    if diagnosis is None or diagnosis.cause not in CAUSES:
        return
    finding = CAUSES[diagnosis.cause]
    stop = "" if diagnosis.stop is None else day.stops[diagnosis.stop].asked.name
    yield replace(finding, message=finding.message.format(share=_share(diagnosis), stop=stop))


def _share(diagnosis: Diagnosis) -> str:
    uses = [use for use in diagnosis.uses if diagnosis.stop in (None, use.stop)]
    used_l, planned_l = (
        sum(use.used_l for use in uses),
        sum(use.planned_l for use in uses),
    )
    deviation = used_l / planned_l - 1
    return f"{abs(deviation):.0%} {'less' if deviation < 0 else 'more'}"
