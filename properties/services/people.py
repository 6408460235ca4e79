"""Adding people to a firm and changing what they may do."""

from django.db import transaction

from properties.core.errors import Refused
from properties.core.powers import Role
from properties.models import Firm, Person


@transaction.atomic
def add_person(*, firm: Firm, email: str, name: str, role: str, units: str) -> Person:
    """Add somebody to a firm. They choose their password by a link."""
    return Person.objects.create_user(email=email, firm=firm, name=name, role=role, units=units)


@transaction.atomic
def change_person(person: Person, *, name: str, role: str, is_active: bool) -> Person:
    """Change the role of a person, or close their access. A firm keeps an owner."""
    owners = Person.objects.filter(firm=person.firm_id, role=Role.OWNER, is_active=True)
    leaves_ownership = role != Role.OWNER or not is_active
    if leaves_ownership and not owners.exclude(pk=person.pk).exists():
        raise Refused(
            "role",
            "This is the only owner of the firm.",
            "Make somebody else an owner first.",
        )
    person.name, person.role, person.is_active = name, role, is_active
    person.full_clean(exclude=["password"])
    person.save(update_fields=["name", "role", "is_active"])
    return person


@transaction.atomic
def change_own_facts(person: Person, *, name: str, units: str) -> Person:
    """Let a person change their name and the units they read in."""
    person.name, person.units = name, units
    person.full_clean(exclude=["password"])
    person.save(update_fields=["name", "units"])
    return person
