"""What is drawn on a property, and every earlier state of it.

A row of ``Outline`` is one state of one shape. It holds from revision ``since``
on, and until revision ``until``, where another state or nothing takes its place.
The drawing as of any revision can be read back; nothing drawn is ever lost.
"""

from django.db import models
from shapely.geometry.base import BaseGeometry

from properties.core.features import KINDS
from properties.core.units import Quantity
from properties.models.fields import GeometryField, QuantityField
from properties.models.firm import MEASURED_BY
from properties.models.people import Person
from properties.models.places import Property


class Revision(models.Model):
    """One saving of a property's drawing: who, when and why."""

    property = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField()
    saved_at = models.DateTimeField()
    saved_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    why = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["property", "number"], name="revision_number_once")
        ]

    def __str__(self) -> str:
        return f"{self.property}, drawing {self.number}"


class Outline(models.Model):
    """One state of one shape of a property, in degrees as it was drawn."""

    property = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="outlines")
    ref = models.CharField(max_length=64)
    kind = models.CharField(max_length=30, choices=[(k.token, k.name) for k in KINDS.values()])
    name = models.CharField(max_length=80, blank=True)
    setback: "models.Field[Quantity | None, Quantity | None]" = QuantityField(null=True, blank=True)
    slope: "models.Field[Quantity | None, Quantity | None]" = QuantityField(null=True, blank=True)
    downwind_setback: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    gate: "models.Field[Quantity | None, Quantity | None]" = QuantityField(null=True, blank=True)
    by_hand_only = models.BooleanField(default=False)
    position_error: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    measured_by = models.CharField(max_length=10, choices=MEASURED_BY, blank=True)
    #: The words of the turfgrasses that grow in this turf; empty: those of the property.
    turfgrasses = models.JSONField(default=list, blank=True)
    geometry: "models.Field[BaseGeometry, BaseGeometry]" = GeometryField()
    west = models.FloatField(db_index=True)
    south = models.FloatField(db_index=True)
    east = models.FloatField(db_index=True)
    north = models.FloatField(db_index=True)
    position = models.PositiveIntegerField()
    since = models.PositiveIntegerField()
    until = models.PositiveIntegerField(null=True, blank=True)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["property", "ref"],
                condition=models.Q(until__isnull=True),
                name="outline_has_one_present_state",
            ),
            models.CheckConstraint(
                condition=models.Q(until__isnull=True) | models.Q(until__gt=models.F("since")),
                name="outline_ends_after_it_begins",
            ),
        ]

    def __str__(self) -> str:
        return self.name or self.get_kind_display()
