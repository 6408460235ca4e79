"""What came of checking a programme at every property."""

from django.db.models import Case, IntegerField, QuerySet, Value, When

from planner.models import Programme, SeasonFinding
from properties.models import Person, Property
from properties.selectors.places import properties_of


def findings_of(programme: Programme, year: int) -> QuerySet[SeasonFinding]:
    """List what was found for a year, what most needs somebody's eye first."""
    ranks = [
        When(worst=word, then=Value(rank)) for rank, (word, _) in enumerate(SeasonFinding.WORST)
    ]
    return (
        SeasonFinding.objects.filter(programme=programme, year=year)
        .select_related("place")
        .order_by(Case(*ranks, output_field=IntegerField()), "place__name")
    )


def places_to_check(person: Person) -> QuerySet[Property]:
    """List the properties on which something is drawn."""
    return properties_of(person).filter(drawing_number__gt=0)
