"""Limits on nutrients that a firm works under, and soil tests on file."""

from django.db import models

from properties.core.units import Quantity
from properties.models import Firm, Person, Property
from properties.models.fields import QuantityField


class NutrientLimit(models.Model):
    """How much of a nutrient may go down, by a law, an ordinance or the firm itself."""

    NUTRIENTS = [
        ("N", "Nitrogen (N)"),
        ("soluble N", "Soluble nitrogen"),
        ("P2O5", "Phosphate (P2O5)"),
        ("P", "Phosphorus (P)"),
        ("K2O", "Potash (K2O)"),
        ("K", "Potassium (K)"),
    ]
    PER = [
        ("application", "each application"),
        ("year", "a calendar year"),
        ("month", "a calendar month"),
        ("30 days", "any 30 days"),
    ]

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="nutrient_limits")
    nutrient = models.CharField(max_length=10, choices=NUTRIENTS)
    per = models.CharField(max_length=15, choices=PER)
    at_most: "models.Field[Quantity, Quantity]" = QuantityField()
    unless_soil_test = models.BooleanField(default=False)
    #: The share of the nitrogen whose slow release lifts the limit; nothing lifts it if empty.
    least_slow_release: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    #: The one property where it holds; everywhere if empty.
    only_at = models.ForeignKey(
        Property, on_delete=models.CASCADE, null=True, blank=True, related_name="nutrient_limits"
    )
    source = models.CharField(max_length=300)
    from_on = models.DateField()
    to_on = models.DateField(null=True, blank=True)
    checked_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    checked_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["nutrient", "per", "only_at", "-from_on"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(to_on__isnull=True) | models.Q(to_on__gte=models.F("from_on")),
                name="nutrient_limit_ends_after_it_begins",
                violation_error_message="The last day lies before the first.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_nutrient_display()}: {self.at_most} for {self.get_per_display()}"


class SoilTest(models.Model):
    """A soil test of a property, which lifts some limits while it is valid."""

    property = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="soil_tests")
    taken_on = models.DateField()
    valid_until = models.DateField()
    source = models.CharField(max_length=300)
    entered_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)

    class Meta:
        ordering = ["-taken_on", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(valid_until__gte=models.F("taken_on")),
                name="soil_test_valid_after_it_is_taken",
                violation_error_message="It ends before the soil was taken.",
            ),
        ]

    def __str__(self) -> str:
        return f"soil test of {self.property}, {self.taken_on:%b %-d %Y}"
