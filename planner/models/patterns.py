"""Spread patterns that were caught in a row of pans."""

from typing import Any

from django.db import models
from django.urls import reverse

from planner.models.equipment import Machine
from properties.core.units import Quantity
from properties.models import Person
from properties.models.fields import QuantityField


class PatternTest(models.Model):
    """What each pan of a row across the way caught of one pass or more, from the left.

    ``ceiling_percent`` is the coefficient of variation that is still even enough.
    """

    machine = models.ForeignKey(Machine, on_delete=models.CASCADE, related_name="pattern_tests")
    done_at = models.DateTimeField()
    done_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    pan_spacing: "models.Field[Quantity, Quantity]" = QuantityField()
    unit = models.CharField(max_length=20)
    catches: "models.JSONField[list[Any], list[Any]]" = models.JSONField()
    ceiling_percent = models.PositiveSmallIntegerField(default=15)
    note = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["-done_at", "-pk"]

    def __str__(self) -> str:
        return f"pattern of {self.machine}, {self.done_at:%b %-d %Y}"

    def get_absolute_url(self) -> str:
        """Point to what this pattern came to."""
        return reverse("pattern", args=[self.pk])
