"""Mixes of products, and what a firm knows of products that do or do not go together."""

from django.db import models
from django.urls import reverse

from planner.models.labels import LabelLine, Product
from properties.core.units import Quantity
from properties.models import Firm, Person
from properties.models.fields import QuantityField


def _quantity() -> "models.Field[Quantity | None, Quantity | None]":
    """A quantity that nobody need have measured."""
    return QuantityField(null=True, blank=True)


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
    """One product of a mix and the rate it is used at: its own, or that of a nutrient in it."""

    NUTRIENTS = [
        ("", "the product"),
        ("N", "nitrogen (N)"),
        ("P2O5", "phosphate (P2O5)"),
        ("K2O", "potash (K2O)"),
    ]

    mix = models.ForeignKey(Mix, on_delete=models.CASCADE, related_name="parts")
    product = models.ForeignKey(Product, on_delete=models.PROTECT, related_name="mix_parts")
    rate: "models.Field[Quantity, Quantity]" = QuantityField()
    nutrient = models.CharField(max_length=10, blank=True, choices=NUTRIENTS)
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


class ProductPair(models.Model):
    """Two products that must not share a tank, or only with care, in the eyes of a firm."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="product_pairs")
    first = models.ForeignKey(Product, on_delete=models.CASCADE, related_name="+")
    second = models.ForeignKey(Product, on_delete=models.CASCADE, related_name="+")
    blocks = models.BooleanField(default=True)
    source = models.CharField(max_length=300)
    entered_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    entered_on = models.DateField()

    class Meta:
        ordering = ["first__name", "second__name"]
        constraints = [
            models.UniqueConstraint(
                fields=["first", "second"],
                name="product_pair_once",
                violation_error_message="These two stand here already.",
            ),
            models.CheckConstraint(
                condition=~models.Q(first=models.F("second")),
                name="product_pair_is_of_two",
                violation_error_message="Choose two different products.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.first} and {self.second}"


class JarTest(models.Model):
    """What came of a mix that somebody put together in a jar."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="jar_tests")
    #: The names of the products as they were, so that a change of the mix changes nothing here.
    products = models.JSONField()
    fits = models.BooleanField()
    tried_on = models.DateField()
    tried_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    note = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["-tried_on", "-pk"]

    def __str__(self) -> str:
        return ", ".join(self.products)


class WaterTest(models.Model):
    """What is in the water that a firm fills its tanks with."""

    firm = models.OneToOneField(Firm, on_delete=models.CASCADE, related_name="water_test")
    potassium = _quantity()
    sodium = _quantity()
    calcium = _quantity()
    magnesium = _quantity()
    iron = _quantity()
    tested_on = models.DateField()
    source = models.CharField(max_length=300)

    def __str__(self) -> str:
        return f"water of {self.firm}, {self.tested_on}"
