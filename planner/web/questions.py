"""The question that a plan answers: as typed, as a form, as what is asked of the selector."""

from typing import Any

from planner.selectors.equipment import machines_of
from planner.selectors.plans import Asked
from planner.selectors.products import mixes_of
from planner.web.forms.plans import PlanForm
from properties.core.errors import FaultsFound, Refused
from properties.models import Person, Property


def plan_form(person: Person, typed: Any) -> PlanForm:
    """Offer the machines and mixes of a person's firm, with what was typed if anything was."""
    return PlanForm(typed, machines=machines_of(person), mixes=mixes_of(person))


def asked_in(form: PlanForm, place: Property) -> Asked:
    """Read what is asked for. FaultsFound with every fault of the form."""
    if not form.is_valid():
        raise FaultsFound(
            Refused(name, " ".join(str(words) for words in problems))
            for name, problems in form.errors.items()
        )
    return Asked(place=place, **form.question())
