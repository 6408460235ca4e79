"""Mixes of products, and what a firm knows of products that do or do not go together."""

from django.db import models
from django.urls import reverse

from planner.models.labels import LabelLine, Product
from properties.core.units import Quantity
from properties.models import Firm
from properties.models.fields import QuantityField


class Mix(models.Model):
    """What goes into the tank together, each at its rate."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="mixes")
    name = models.CharField(max_length=120)
    #: Whether the products stand in the order of their labels, which beats the usual one.
    order_is_from_label = models.BooleanField(default=False)

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
    #: The line of the label’s table that it is used by, none where the general range holds.
    line = models.ForeignKey(
        LabelLine, on_delete=models.PROTECT, null=True, blank=True, related_name="mix_parts"
    )
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
