"""Keeping a plan as it is today."""

from dataclasses import replace
from datetime import datetime

from django.db import transaction

from planner.models import KeptPlan
from planner.selectors.plans import Asked, plan_for, request_for
from properties.models import Person, Property
from properties.selectors.places import day_of_firm


def keep_plan(
    asked: Asked, *, person: Person, at: datetime, question: str, note: str = ""
) -> KeptPlan:
    """Plan what is asked again, and keep request and plan as they come out.

    Raises what planning raises; nothing is kept then.
    """
    with transaction.atomic():
        # Held, so that the number and the shapes are of the same drawing.
        place = Property.objects.select_for_update().get(pk=asked.place.pk)
        request = request_for(
            person, replace(asked, place=place), day=day_of_firm(at, person.firm_id)
        )
    # Planning can take seconds, in which everybody else may write.
    kept = KeptPlan(
        property=place,
        drawing_number=place.drawing_number,
        machine=asked.machine,
        machine_name=asked.machine.name,
        mix=asked.mix,
        mix_name=asked.mix.name,
        made_at=at,
        made_by=person,
        question=question,
        request=request,
        plan=plan_for(request),
        note=note,
    )
    with transaction.atomic():
        kept.full_clean()
        kept.save()
    return kept
