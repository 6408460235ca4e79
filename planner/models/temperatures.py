"""Daily temperatures that a firm enters, by the station they were read at."""

from django.db import models
from django.urls import reverse

from properties.core.units import Quantity
from properties.models import Firm, Person, Property
from properties.models.fields import QuantityField


def _degrees() -> "models.Field[Quantity | None, Quantity | None]":
    """A temperature that nobody need have read."""
    return QuantityField(null=True, blank=True)


class Station(models.Model):
    """Where temperatures are read: a thermometer of the firm, or a weather station near by."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="stations")
    name = models.CharField(max_length=120)
    source = models.CharField(max_length=300, blank=True)
    #: The properties that go by it; the others go by the first station of the firm.
    places = models.ManyToManyField(Property, blank=True, related_name="stations")

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "name"],
                name="station_name_once_in_a_firm",
                violation_error_message="There is a station of this name already.",
            )
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Point to the page of this station."""
        return reverse("station", args=[self.pk])


class DailyTemperature(models.Model):
    """What was read at a station on a day; what nobody read is unknown."""

    station = models.ForeignKey(Station, on_delete=models.CASCADE, related_name="days")
    on = models.DateField()
    high = _degrees()
    low = _degrees()
    soil = _degrees()
    entered_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)

    class Meta:
        ordering = ["station", "on"]
        constraints = [
            models.UniqueConstraint(fields=["station", "on"], name="temperature_once_a_day")
        ]

    def __str__(self) -> str:
        return f"{self.station}, {self.on:%b %-d %Y}"
