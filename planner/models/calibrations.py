"""What was measured of a machine, and for how long a firm goes by it."""

from typing import Any

from django.db import models
from django.urls import reverse

from planner.models.equipment import Machine
from properties.core.units import Quantity
from properties.models import Firm, Person
from properties.models.fields import QuantityField


class Calibration(models.Model):
    """A measurement with water, done by somebody on a day, with the set-up of that day.

    ``told`` has the members of a calibration of a plan request, and ``set_up`` those of its
    set-up, every quantity as it was typed.
    """

    machine = models.ForeignKey(Machine, on_delete=models.CASCADE, related_name="calibrations")
    done_at = models.DateTimeField()
    done_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    swath: "models.Field[Quantity, Quantity]" = QuantityField()
    told: "models.JSONField[dict[str, Any], dict[str, Any]]" = models.JSONField()
    set_up: "models.JSONField[dict[str, str], dict[str, str]]" = models.JSONField(
        default=dict, blank=True
    )
    area_since: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    note = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["-done_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.machine}, {self.done_at:%b %-d %Y}"

    def get_absolute_url(self) -> str:
        """Point to what this calibration came to."""
        return reverse("calibration", args=[self.pk])


class CalibrationRule(models.Model):
    """For how long, and for how much ground, a firm goes by a calibration."""

    firm = models.OneToOneField(Firm, on_delete=models.CASCADE, related_name="calibration_rule")
    good_for_days = models.PositiveSmallIntegerField(null=True, blank=True)
    good_for_area: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )

    def __str__(self) -> str:
        return f"calibrations of {self.firm}"
