"""Products as facts that a person copied from the label in their hand, and mixes of them."""

from django.db import models
from django.urls import reverse

from planner.core.mixing import FORMULATIONS, WORDS
from properties.core.features import KINDS, Role
from properties.core.units import Quantity
from properties.models import Firm, Person
from properties.models.fields import QuantityField


class Product(models.Model):
    """A product and what its label allows."""

    FORMULATIONS_TO_CHOOSE = [
        ("", "Not known yet"),
        *((form.token, f"{form.token} ({WORDS[form.step]})") for form in FORMULATIONS.values()),
    ]

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="products")
    name = models.CharField(max_length=120)
    registration_number = models.CharField(max_length=60, blank=True)
    purpose = models.CharField(max_length=120, blank=True)
    formulation = models.CharField(max_length=30, choices=FORMULATIONS_TO_CHOOSE, blank=True)
    rate_min: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    rate_max: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    carrier_min: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    carrier_max: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    wind_max: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    protection = models.CharField(max_length=300, blank=True)
    is_invented = models.BooleanField(default=False)
    entered_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    entered_at = models.DateTimeField()

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "name"],
                name="product_name_once_in_a_firm",
                violation_error_message="There is a product of this name already.",
            )
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Point to the page of this label."""
        return reverse("label", args=[self.pk])


class LabelSetback(models.Model):
    """A distance that a label asks for from a kind of feature."""

    product = models.ForeignKey(Product, on_delete=models.CASCADE, related_name="setbacks")
    kind = models.CharField(
        max_length=30,
        choices=[(k.token, k.name) for k in KINDS.values() if k.role is Role.PROTECTED],
    )
    distance: "models.Field[Quantity, Quantity]" = QuantityField()

    class Meta:
        ordering = ["kind"]
        constraints = [
            models.UniqueConstraint(
                fields=["product", "kind"],
                name="label_setback_once_a_kind",
                violation_error_message="The label names this kind of feature twice.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.distance}"


class Mix(models.Model):
    """What goes into the tank together, each at its rate."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="mixes")
    name = models.CharField(max_length=120)

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "mixes"
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "name"],
                name="mix_name_once_in_a_firm",
                violation_error_message="There is a mix of this name already.",
            )
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Point to the page of this mix."""
        return reverse("mix", args=[self.pk])


class MixPart(models.Model):
    """One product of a mix and the rate it is used at."""

    mix = models.ForeignKey(Mix, on_delete=models.CASCADE, related_name="parts")
    product = models.ForeignKey(Product, on_delete=models.PROTECT, related_name="mix_parts")
    rate: "models.Field[Quantity, Quantity]" = QuantityField()
    position = models.PositiveSmallIntegerField()

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(
                fields=["mix", "product"],
                name="product_once_in_a_mix",
                violation_error_message="A product stands in this mix twice.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.product} at {self.rate}"
