"""A piece of long work that waits, and the task that would do it."""

import pytest
from django.utils import timezone
from django_tasks import task

from properties.models import Customer, Errand, Person
from properties.services.errands import Outcome, Progress, Write, carry_out


@task()
def add_a_customer(errand_id: int) -> None:
    """Add one customer, in one step."""
    carry_out(errand_id, _add_a_customer)


def _add_a_customer(errand: Errand, progress: Progress) -> Write:
    progress.tell(1, total=1)

    def write() -> Outcome:
        Customer.objects.create(firm=errand.firm, name="Wren Alder")
        return Outcome("Wren Alder is there.", "/properties/")

    return write


@pytest.fixture
def errand(owner: Person) -> Errand:
    """Work that the owner asked for a moment ago."""
    return Errand.objects.create(
        firm=owner.firm,
        asked_by=owner,
        title="Add a customer",
        task=add_a_customer.module_path,
        asked_at=timezone.now(),
    )
