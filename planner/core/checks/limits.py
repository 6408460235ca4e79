"""What is found about the past of a place: closed ground, too little room, what nobody knows."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from planner.core.amounts.parts import Part
from planner.core.amounts.planned import Planned
from planner.core.checks.ground import NOTHING_M2
from planner.core.findings import Finding, Findings
from planner.core.ground.accounting import closed_areas_m2, why_closed
from planner.core.ground.ground import Ground, called
from planner.core.limits import Face
from planner.core.limits.calendar import holds
from planner.core.limits.ceilings import Ceiling, ceilings_of
from planner.core.limits.rooms import Tightest
from planner.core.mix.products import Product
from planner.core.past import Seeding
from planner.core.request import PlanRequest
from planner.core.shown import Shown, day_said, listed, said, said_at_most
from properties.core.units import Quantity, quantity_of_si

#: Sowing longer ago, or farther ahead, is no news to anybody.
_NEAR_SOWING = timedelta(days=366)


def limit_findings(planned: Planned) -> Findings:
    """Say what the past of the place means for the job.

    Parameters
    ----------
    planned : Planned
        The figures. [-]

    Returns
    -------
    Findings
        Refusals where too much is asked for or nothing is open; warnings of ground that
        is left out, and of what is not known. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The labels and the rules; unknown is not zero.
    """
    ground, request, shown = planned.ground, planned.request, planned.shown
    warnings = [*_closed(ground, shown), *_not_known(request), *_content_unknown(ground)]
    refusals = [*_nothing_open(ground), *_too_much(planned.parts, ground, shown)]
    return Findings(tuple(warnings), tuple(refusals))


def where(faces: Sequence[Face], ground: Ground, shown: Shown) -> str:
    """Say which ground some faces are, and how much.

    Parameters
    ----------
    faces : Sequence[Face]
        The faces, one at least. [m]
    ground : Ground
        The ground of the plan. [m²]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    str
        Such as ``500 sq ft of Back (turf)``. [unit shown]

    Raises
    ------
    Nothing
        Any face can be named.

    References
    ----------
    Our own wording.
    """
    shapes = {shape.ref: called(shape) for shape in ground.drawing.shapes}
    area_m2 = sum(ground.treatment.area_of(face.geometry) for face in faces)
    lawns = dict.fromkeys(shapes[ref] for face in faces for ref in face.features)
    return f"{said(shown.area_of(area_m2))} of {listed(list(lawns))}"


def _closed(ground: Ground, shown: Shown) -> Iterator[Finding]:
    if ground.treatment.treatable_area_m2 < NOTHING_M2:
        return
    closed = [face for face in ground.faces.faces if not face.is_open]
    for reason in closed_areas_m2(ground):
        here = [face for face in closed if why_closed(face) == reason]
        message = (
            f"{where(here, ground, shown)} are left out, {reason}. The amounts of this plan are "
            "for the rest."
        )
        yield Finding("ground_closed", message)


def _nothing_open(ground: Ground) -> Iterator[Finding]:
    closed = [face for face in ground.faces.faces if not face.is_open]
    if ground.treatment.treatable_area_m2 >= NOTHING_M2 or not closed:
        return
    days = [face.open_on for face in closed if face.open_on is not None]
    first = f" The first ground opens on {day_said(min(days))}." if days else ""
    reasons = "; ".join(closed_areas_m2(ground))
    message = (
        f"No ground is open to this mix on the day: {reasons}.{first} Plan it for that day, or "
        "choose a mix without what is closed."
    )
    yield Finding("nothing_open", message)


def _too_much(parts: Sequence[Part], ground: Ground, shown: Shown) -> Iterator[Finding]:
    """One refusal for each product, about the ground where the least of it is allowed."""
    worst: dict[str, Tightest] = {}
    for tightest in (each for part in parts for each in part.tightest if each.is_passed):
        for name in tightest.ceiling.shares:
            if name not in worst or tightest.share < worst[name].share:
                worst[name] = tightest
    products = {total.product.name: total.product for total in parts[0].totals}
    for name, tightest in worst.items():
        yield _above(products[name], tightest, ground, shown)


def _above(product: Product, tightest: Tightest, ground: Ground, shown: Shown) -> Finding:
    highest = said_at_most(shown.rate_of(product.rate, product.rate.si * tightest.share))
    standing, ceiling = tightest.standing, tightest.ceiling
    each = ceiling.limits.per_application
    of_substance = f" of {ceiling.substance}" if ceiling.substance else ""
    asked = f"{said(_amount(tightest, tightest.asked, shown))}{of_substance} " + (
        "are asked for" if tightest.times == 1 else "would come down on the slope"
    )
    if standing.room is None or (each is not None and each.si < standing.room):
        message = (
            f"{product.name}: {asked}, and the label allows {each} "
            f"at once. {highest} is the highest rate that keeps it."
        )
        return Finding("rate_above_application", message, product=product.name)
    room = said_at_most(_amount(tightest, standing.room, shown))
    had = said(_amount(tightest, standing.received or 0.0, shown))
    message = (
        f"{product.name}: {asked}, and "
        f"{where([tightest.face], ground, shown)} may get {room} more at most: the label allows "
        f"{ceiling.limits.per_year} {ceiling.limits.year.words}, and {had} have been put down "
        f"there. With one tank {highest} is the highest rate that holds everywhere"
        f"{_low(product, tightest)}. Use that rate, or plan the ground with less room by "
        "itself."
    )
    return Finding("rate_above_room", message, product=product.name)


def _amount(tightest: Tightest, amount: float, shown: Shown) -> Quantity:
    return quantity_of_si(amount, tightest.ceiling.unit(shown))


def _low(product: Product, tightest: Tightest) -> str:
    if product.label.rate.undercut_by(product.rate.si * tightest.share):
        return ", and it is below the label’s lowest"
    return ""


def _not_known(request: PlanRequest) -> Iterator[Finding]:
    past = request.past
    for product in request.products:
        limited = [each for each in ceilings_of([product]) if each.limits.needs_history]
        if limited and past.history is None:
            message = (
                f"{product.name}: what this place has had is not known here, and the label limits "
                "how much or how often the same ground may get it. Look it up in your records, "
                "and add what was put down here."
            )
            yield Finding("history_unknown", message, product=product.name)
        if limited and past.history is not None:
            yield from _incomplete(product, limited, request)
        yield from _blackouts(product, request)
    yield from _sowing(request)


def _incomplete(
    product: Product, limited: Sequence[Ceiling], request: PlanRequest
) -> Iterator[Finding]:
    since, day = request.past.since, request.on
    if since is None or day is None:
        return
    wanted = min(each.limits.looks_back_to(day) for each in limited)
    if since > wanted:
        message = (
            f"{product.name}: what this place has had is known from {day_said(since)} on, and the "
            f"label counts from {day_said(wanted)}. Add what was put down before, or say that "
            "nothing was."
        )
        yield Finding("history_incomplete", message, product=product.name)


def _sowing(request: PlanRequest) -> Iterator[Finding]:
    """Ground that is sown, and labels of which nobody copied how long to wait."""
    day = request.on
    if day is None:
        return
    near = [each for each in request.past.seedings if abs(each.sown_on - day) <= _NEAR_SOWING]
    silent = [product.name for product in request.products if _is_silent(product, near, day)]
    if silent:
        days = listed([day_said(each) for each in sorted({each.sown_on for each in near})])
        message = (
            f"Ground here is sown on {days}, and nobody has copied how long the label of "
            f"{listed(silent)} wants to wait. Read it before you spray there."
        )
        yield Finding("seeding_wait_unknown", message)


def _is_silent(product: Product, seedings: Sequence[Seeding], day: date) -> bool:
    waits = product.label.seeding
    asked = (waits.after_days if each.sown_on <= day else waits.before_days for each in seedings)
    return any(wait is None for wait in asked)


def _blackouts(product: Product, request: PlanRequest) -> Iterator[Finding]:
    day = request.on
    if day is None:
        return
    holding = [rule for rule in request.past.blackouts if rule.substance and rule.holds_on(day)]
    asked = [rule.what for rule in holding if holds(product, rule.what) is None]
    if asked:
        message = (
            f"{product.name}: nobody says what is in it, so nobody has checked whether today’s "
            f"blackout of {listed(list(dict.fromkeys(asked)))} is about it. Copy its active "
            "ingredients or its grade from the label."
        )
        yield Finding("blackout_unchecked", message, product=product.name)


def _content_unknown(ground: Ground) -> Iterator[Finding]:
    """Substances that cannot be added up, as nobody says what was in some application."""
    unknown: dict[str, set[str]] = {}
    for face in ground.faces.faces:
        for standing in face.standings:
            if standing.received is None:
                names = unknown.setdefault(standing.ceiling.what, set())
                names |= {
                    each.product
                    for each in standing.counted
                    if standing.ceiling.amount_in(each) is None
                }
    for substance, names in unknown.items():
        message = (
            f"Nobody says whether {listed(sorted(names))} contained {substance}, so how much of it "
            "the ground has had is not known. Tell what was in it, or that nothing was that "
            "is limited."
        )
        yield Finding("history_content_unknown", message)
