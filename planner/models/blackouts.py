"""Blackout dates: days of every year on which something is not put down."""

from django.db import models
from django.utils.dates import MONTHS

from planner.models.labels import Product
from properties.models import Firm, Person, Property


class BlackoutRule(models.Model):
    """Days of every year without a product or a substance: who says so, and who checked it."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="blackouts")
    #: An active ingredient, or a nutrient such as N or P; or else a product of the firm.
    substance = models.CharField(max_length=120, blank=True)
    product = models.ForeignKey(
        Product, on_delete=models.CASCADE, null=True, blank=True, related_name="blackouts"
    )
    #: The one property where it holds, such as a town's own code; everywhere if empty.
    only_at = models.ForeignKey(
        Property, on_delete=models.CASCADE, null=True, blank=True, related_name="blackouts"
    )
    #: Month and day, both included, such as 12-01 to 03-01.
    from_day = models.CharField(max_length=5)
    to_day = models.CharField(max_length=5)
    source = models.CharField(max_length=300)
    checked_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    checked_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["substance", "product__name", "from_day"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(product__isnull=True) ^ models.Q(substance=""),
                name="blackout_of_a_product_or_a_substance",
                violation_error_message="Name either a substance or a product.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.what}, {self.from_day} to {self.to_day}"

    @property
    def what(self) -> str:
        """Name what is not put down."""
        return self.product.name if self.product else self.substance

    @property
    def first_words(self) -> str:
        """Write the first day in words."""
        return month_day_words(self.from_day)

    @property
    def last_words(self) -> str:
        """Write the last day in words."""
        return month_day_words(self.to_day)


def month_day_words(month_day: str) -> str:
    """Write a day of every year, kept as 12-01, in words."""
    month, day = (int(part) for part in month_day.split("-"))
    return f"{MONTHS[month]} {day}"
