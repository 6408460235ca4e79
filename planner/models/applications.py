"""What a property has had: products put down, ground sown, and from when all of it is known.

A row is never changed. One that was wrong is struck out, and stays to be read.
"""

from django.db import models
from shapely.geometry.base import BaseGeometry

from planner.models.equipment import Machine
from planner.models.labels import Product
from planner.models.plans import KeptPlan
from properties.core.units import Quantity
from properties.models import Person, Property
from properties.models.fields import GeometryField, QuantityField


class OnGround(models.Model):
    """Something that was done to some ground of a property on a day."""

    geometry: "models.Field[BaseGeometry, BaseGeometry]" = GeometryField()
    #: The ground in words, as it was called on the day.
    where = models.CharField(max_length=300)
    note = models.CharField(max_length=300, blank=True)
    entered_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    entered_at = models.DateTimeField()
    struck_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    struck_at = models.DateTimeField(null=True, blank=True)
    struck_why = models.CharField(max_length=300, blank=True)

    class Meta:
        abstract = True


class PastApplication(OnGround):
    """One product that was put down on some ground, at a rate per area."""

    HOW_KNOWN = [
        ("entered", "entered by hand"),
        ("plan", "from a kept plan"),
    ]

    property = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="applications")
    applied_on = models.DateField(db_index=True)
    product = models.ForeignKey(Product, on_delete=models.PROTECT, related_name="applications")
    product_name = models.CharField(max_length=120)
    rate: "models.Field[Quantity, Quantity]" = QuantityField()
    how_known = models.CharField(max_length=10, choices=HOW_KNOWN, default="entered")
    #: With what it was put down; none where nobody told.
    machine = models.ForeignKey(
        Machine, on_delete=models.SET_NULL, null=True, blank=True, related_name="applications"
    )
    kept_plan = models.ForeignKey(
        KeptPlan, on_delete=models.SET_NULL, null=True, blank=True, related_name="applications"
    )

    class Meta:
        ordering = ["-applied_on", "-pk"]

    def __str__(self) -> str:
        return f"{self.product_name}, {self.rate}, {self.applied_on:%b %-d %Y}"


class Seeding(OnGround):
    """Ground that was sown, or will be."""

    property = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="seedings")
    sown_on = models.DateField()

    class Meta:
        ordering = ["-sown_on", "-pk"]

    def __str__(self) -> str:
        return f"{self.where}, {self.sown_on:%b %-d %Y}"


class KnownSince(models.Model):
    """From which day on somebody says that all that was put down on a property is known."""

    property = models.OneToOneField(
        Property, on_delete=models.CASCADE, related_name="history_known"
    )
    since = models.DateField()
    said_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    said_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.property} since {self.since:%b %-d %Y}"
