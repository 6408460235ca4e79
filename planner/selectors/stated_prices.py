"""Pricing a property whose turf is stated and not drawn: by a square that stands in for it.

The square goes through the same door as every drawing, and its corners are out by as much
as makes the area out as a stated one is. It is for prices alone: a plan of spraying never
sees it.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from shapely.geometry import mapping

from planner.core.findings import Finding
from planner.core.plan import plan_from_json
from planner.models import Round
from planner.selectors.plans import request_for
from planner.selectors.priced_visits import PriceAsked, VisitAsked, VisitPlan, Visits, visits_asked
from planner.selectors.programmes import window_of
from properties.core.errors import Refused
from properties.core.showing import shown
from properties.core.stated import StatedGround, stand_in
from properties.core.units import Quantity
from properties.models import Person, Property
from properties.selectors.stated_areas import stated_ground_of

#: What nobody can answer of ground that is not drawn. It stops no price, and will stop the plan.
NOT_BEFORE_IT_IS_DRAWN = frozenset({"nutrient_so_far_unknown", "history_content_unknown"})


def stated_visits(person: Person, asked: PriceAsked) -> Visits | None:
    """Plan the visits at a property that nobody has drawn; nothing where one is drawn.

    Each round stands alone: what the ground has had is not known before it is drawn.
    """
    ground = stated_ground_of(asked.place)
    if ground is None:
        return None
    rounds = [None] if asked.programme is None else list(asked.programme.rounds.all())
    year = asked.year or _year_of(rounds, asked.on)
    asked = replace(asked, on=max(asked.on, date(year, 1, 1)))
    pairs = zip(rounds, visits_asked(asked), strict=True)
    still_to_do = [pair for pair in pairs if not _is_over(pair[0], year, asked.on)]
    if not still_to_do:
        raise Refused(
            "programme",
            f"No round of {asked.words} is left to do in {year}.",
            "Choose a day of another year.",
        )
    return Visits(tuple(_planned(person, asked, pair, ground) for pair in still_to_do))


def _year_of(rounds: Sequence[Round | None], on: date) -> int:
    """The year of the day, or the next where its rounds are all over."""
    is_left = any(not _is_over(round_, on.year, on) for round_ in rounds)
    return on.year if is_left else on.year + 1


def _is_over(round_: Round | None, year: int, on: date) -> bool:
    return round_ is not None and window_of(round_, year).last < on


def _planned(
    person: Person, asked: PriceAsked, pair: tuple[Round | None, VisitAsked], ground: StatedGround
) -> VisitPlan:
    round_, visit = pair
    request = request_for(person, visit.asked, day=asked.on)
    request["property"] = _square(asked.place, ground)
    plan = plan_from_json(request)
    told = [(refusal.code in NOT_BEFORE_IT_IS_DRAWN, refusal.message) for refusal in plan.refusals]
    return VisitPlan(
        visit.name,
        visit.asked,
        request,
        plan,
        refusals=tuple(words for waits, words in told if not waits),
        cautions=tuple(words for waits, words in told if waits),
        round=round_,
    )


def _square(place: Property, ground: StatedGround) -> dict[str, Any]:
    square = stand_in(ground, longitude=place.longitude, latitude=place.latitude)
    facts = {
        "kind": "turf",
        "name": "Turf as stated, not drawn",
        "position_error": Quantity(square.sigma_m, "m").to_the_last_digit,
    }
    lawn = {
        "type": "Feature",
        "id": "as-stated",
        "properties": facts,
        "geometry": mapping(square.outline),
    }
    return {"type": "FeatureCollection", "features": [lawn]}


def stated_findings(place: Property) -> tuple[Finding, ...]:
    """Say that a price rests on a stated area, and how far that may be out."""
    ground = stated_ground_of(place)
    if ground is None:
        return ()
    return (
        Finding(
            "stated_area",
            f"{place.name}: the turf is not drawn. {shown(ground.area)} is what was stated "
            f"({ground.said_by}), taken to be out by {100 * ground.sigma_share:.3g} % (one "
            f"standard deviation; {ground.error_source}). Edge and protected places are not "
            "known: draw it before you spray, better before you sign.",
        ),
    )
