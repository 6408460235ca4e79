"""Customers, their properties, and a picture to draw on."""

from django.db import models
from django.urls import reverse

from properties.models.firm import Firm


class Customer(models.Model):
    """Somebody whose turf is looked after."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="customers")
    name = models.CharField(max_length=120)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(fields=["firm", "name"], name="customer_name_once_in_a_firm")
        ]

    def __str__(self) -> str:
        return self.name


class Property(models.Model):
    """A place where work is done, with its address and what to know at the gate."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="properties")
    customer = models.ForeignKey(Customer, on_delete=models.PROTECT, related_name="properties")
    name = models.CharField(max_length=120)
    address = models.CharField(max_length=200)
    access_note = models.TextField(blank=True, max_length=2000)
    time_zone = models.CharField(max_length=60, default="America/Chicago")
    #: The words of the turfgrasses that grow there, as far as somebody looked.
    turfgrasses = models.JSONField(default=list, blank=True)
    latitude = models.FloatField()
    longitude = models.FloatField()
    #: Whether that position is the property's own, and not one for a whole list.
    is_located = models.BooleanField(default=True)
    #: The newest revision of its drawing; 0 before the first.
    drawing_number = models.PositiveIntegerField(default=0)
    # The bounds of what is drawn, in degrees: for the map and for nearness.
    west = models.FloatField(null=True, blank=True, db_index=True)
    south = models.FloatField(null=True, blank=True, db_index=True)
    east = models.FloatField(null=True, blank=True, db_index=True)
    north = models.FloatField(null=True, blank=True, db_index=True)
    #: All turf that is drawn, overlaps counted once, on the ground. [m²]
    turf_area_m2 = models.FloatField(default=0)

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "properties"
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "name", "address"],
                name="property_once_in_a_firm",
                violation_error_message="There is a property of this name at this address already.",
            ),
            models.CheckConstraint(
                condition=models.Q(latitude__range=(-85, 85))
                & models.Q(longitude__range=(-180, 180)),
                name="property_is_on_the_map",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Point to the page of this property."""
        return reverse("property", args=[self.pk])


class Picture(models.Model):
    """A picture seen from above that lies under the drawing of a property."""

    property = models.OneToOneField(Property, on_delete=models.CASCADE, related_name="picture")
    name = models.CharField(max_length=80)
    credit = models.CharField(max_length=200, blank=True)
    file = models.FileField(upload_to="aerial/")
    west = models.FloatField()
    south = models.FloatField()
    east = models.FloatField()
    north = models.FloatField()

    def __str__(self) -> str:
        return self.name
