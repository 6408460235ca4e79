"""Spreadsheets of properties that somebody brought, and areas that are stated and not drawn."""

from django.db import models
from django.urls import reverse

from properties.core.units import Quantity
from properties.models.errands import Errand
from properties.models.fields import QuantityField
from properties.models.firm import Firm
from properties.models.people import Person
from properties.models.places import Property


class Spreadsheet(models.Model):
    """One file of properties on its way in, and what became of it.

    The file and its rows are kept until they are imported or thrown away; afterwards
    only its fingerprint, what came of it and the rows that were left out.
    """

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="spreadsheets")
    brought_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    brought_at = models.DateTimeField()
    file_name = models.CharField(max_length=120)
    #: SHA-256 of the file: the same file is noticed when it comes again.
    fingerprint = models.CharField(max_length=64, db_index=True)
    content = models.BinaryField()
    #: How it was read: kind, separator and notes.
    reading = models.JSONField(default=dict, blank=True)
    rows = models.JSONField(default=list, blank=True)
    #: What the columns hold, once somebody confirmed it.
    columns = models.JSONField(null=True, blank=True)
    #: Where the map opens for rows without a position, and the time zone of all.
    latitude = models.FloatField(null=True, blank=True)
    longitude = models.FloatField(null=True, blank=True)
    time_zone = models.CharField(max_length=60, blank=True)
    #: The work that brings in a long list.
    errand = models.ForeignKey(Errand, on_delete=models.SET_NULL, null=True, blank=True)
    imported_at = models.DateTimeField(null=True, blank=True)
    imported_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    #: How many properties were added, skipped and left out, and what was wrong with the last.
    report = models.JSONField(default=dict, blank=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return self.file_name

    def get_absolute_url(self) -> str:
        """Point to the page where this spreadsheet stands now."""
        if self.imported_at:
            return reverse("import_report", args=[self.pk])
        if self.columns:
            return reverse("import_preview", args=[self.pk])
        return reverse("import_columns", args=[self.pk])


class StatedArea(models.Model):
    """The turf of a property as somebody stated it: a number without an outline.

    No plan of spraying is made from it. A quote may use it, with a wide error bar.
    """

    property = models.OneToOneField(Property, on_delete=models.CASCADE, related_name="stated_area")
    area: "models.Field[Quantity, Quantity]" = QuantityField()
    #: The area as the list told it, with the unit that was confirmed.
    typed = models.CharField(max_length=100)
    source = models.CharField(max_length=200)
    stated_at = models.DateTimeField()
    stated_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)

    def __str__(self) -> str:
        return f"{self.area}, as stated"


class StatedAreaRule(models.Model):
    """How far a stated area may be out, in the eyes of a firm: one standard deviation."""

    firm = models.OneToOneField(Firm, on_delete=models.CASCADE, related_name="stated_area_rule")
    error: "models.Field[Quantity, Quantity]" = QuantityField()
    source = models.CharField(max_length=300)
    checked_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    checked_on = models.DateField(null=True, blank=True)

    def __str__(self) -> str:
        return f"stated areas of {self.firm}: {self.error}"
