"""Catch tests of spreaders, from which a firm's own table of settings grows."""

from django.db import models

from planner.models.equipment import Machine
from planner.models.labels import Product
from properties.core.units import Quantity
from properties.models import Person
from properties.models.fields import QuantityField


class CatchTest(models.Model):
    """One run of a spreader with one product: the setting, the ground, what it used.

    It belongs to the product, and to the swath it was made with.
    """

    machine = models.ForeignKey(Machine, on_delete=models.CASCADE, related_name="catch_tests")
    product = models.ForeignKey(Product, on_delete=models.CASCADE, related_name="catch_tests")
    done_at = models.DateTimeField()
    done_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    swath: "models.Field[Quantity, Quantity]" = QuantityField()
    setting = models.FloatField()
    area: "models.Field[Quantity, Quantity]" = QuantityField()
    used: "models.Field[Quantity, Quantity]" = QuantityField()
    set_up: "models.JSONField[dict[str, str], dict[str, str]]" = models.JSONField(
        default=dict, blank=True
    )
    note = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["done_at", "pk"]

    def __str__(self) -> str:
        return f"{self.machine} with {self.product} at {self.setting:.10g}: {self.used}"
