"""People of a person's firm."""

from django.db.models import QuerySet

from properties.models import Person


def people_of(person: Person) -> QuerySet[Person]:
    """List everybody of a person's firm."""
    return Person.objects.filter(firm=person.firm_id)
