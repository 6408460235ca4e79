"""What a firm has of its products: containers, lots, places, and a ledger only added to."""

from decimal import Decimal

from django.core.validators import MinValueValidator
from django.db import models
from django.urls import reverse

from planner.core.stock.ledger import Kind
from planner.models.applications import PastApplication
from planner.models.jobs import Job
from planner.models.labels import Product
from properties.core.units import Quantity
from properties.models import Firm, Person, Property
from properties.models.fields import QuantityField


class Store(models.Model):
    """A place where products stand: the shop, a truck."""

    KINDS = [("shop", "Shop"), ("truck", "Truck")]

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="stores")
    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=10, choices=KINDS, default="shop")

    class Meta:
        ordering = ["kind", "name"]
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "name"],
                name="store_name_once_in_a_firm",
                violation_error_message="There is a place of this name already.",
            )
        ]

    def __str__(self) -> str:
        return self.name


class Container(models.Model):
    """A size in which a product can be bought, what one costs, and how long it takes to come."""

    product = models.ForeignKey(Product, on_delete=models.CASCADE, related_name="containers")
    size: "models.Field[Quantity, Quantity]" = QuantityField()
    price = models.DecimalField(
        max_digits=10,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(Decimal("0.01"), "Enter what one costs, or nothing.")],
    )
    lead_days = models.PositiveSmallIntegerField(null=True, blank=True)
    is_offered = models.BooleanField(default=True)

    class Meta:
        ordering = ["product__name", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["product", "size"],
                name="container_once_a_size",
                violation_error_message="There is a container of this size already.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.product}, {self.size}"


class Lot(models.Model):
    """Containers of one product that came together, with the number and expiry on them."""

    product = models.ForeignKey(Product, on_delete=models.CASCADE, related_name="lots")
    container = models.ForeignKey(Container, on_delete=models.RESTRICT, related_name="lots")
    number = models.CharField(max_length=60)
    expires_on = models.DateField(null=True, blank=True)
    bought_on = models.DateField()
    #: What each container cost; empty where nobody knows.
    price_each = models.DecimalField(
        max_digits=10,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(Decimal(0), "A price is not below zero.")],
    )

    class Meta:
        ordering = ["product__name", "expires_on", "bought_on", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["product", "number", "bought_on", "container"],
                name="lot_once_a_purchase",
                violation_error_message="This lot was entered for that day already.",
            )
        ]

    def __str__(self) -> str:
        return f"lot {self.number}"

    def get_absolute_url(self) -> str:
        """Point to the page of this lot."""
        return reverse("lot", args=[self.pk])


class StockEntry(models.Model):
    """One act that moved stock: what, when, who, why. It is never changed.

    ``key`` names what it stands for, such as one recorded application, so that the same
    thing is not taken from the stock twice.
    """

    KINDS = [(kind.value, kind.value) for kind in Kind]

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="stock_entries")
    kind = models.CharField(max_length=10, choices=KINDS)
    on = models.DateField(db_index=True)
    why = models.CharField(max_length=300, blank=True)
    entered_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    entered_at = models.DateTimeField()
    key = models.CharField(max_length=120, null=True, blank=True)  # noqa: DJ001, unique if told
    #: The properties that the product was loaded for.
    places = models.ManyToManyField(Property, blank=True, related_name="stock_entries")
    application = models.ForeignKey(
        PastApplication, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    job = models.ForeignKey(
        Job, on_delete=models.SET_NULL, null=True, blank=True, related_name="stock_entries"
    )
    undoes = models.OneToOneField(
        "self", on_delete=models.CASCADE, null=True, blank=True, related_name="undone_by"
    )

    class Meta:
        ordering = ["-on", "-pk"]
        verbose_name_plural = "stock entries"
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "key"],
                name="stock_entry_once_a_key",
                violation_error_message="This was taken from the stock already.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.kind}, {self.on:%b %-d %Y}"


class Movement(models.Model):
    """One line of an entry: so much of one lot in or out of one place."""

    entry = models.ForeignKey(StockEntry, on_delete=models.CASCADE, related_name="movements")
    product = models.ForeignKey(Product, on_delete=models.PROTECT, related_name="movements")
    lot = models.ForeignKey(
        Lot, on_delete=models.RESTRICT, null=True, blank=True, related_name="movements"
    )
    store = models.ForeignKey(Store, on_delete=models.RESTRICT, related_name="movements")
    #: Above zero comes in, below goes out.
    amount: "models.Field[Quantity, Quantity]" = QuantityField()
    #: What a count found; its amount is the difference to the books.
    found: "models.Field[Quantity | None, Quantity | None]" = QuantityField(null=True, blank=True)

    class Meta:
        ordering = ["-entry__on", "-pk"]

    def __str__(self) -> str:
        return f"{self.product}, {self.amount}"


class JobWork(models.Model):
    """What one job really took, as somebody says: time, and amounts by the name of the product.

    What is not in it nobody recorded.
    """

    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="work")
    done_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    minutes = models.PositiveIntegerField(null=True, blank=True)
    used = models.JSONField(default=dict, blank=True)
    entered_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"work on {self.job}"


class PlannedUse(models.Model):
    """What the plan of a job needs, as it was worked out; again where something changed since.

    ``made_of`` stands for all that went into the plan. ``facts`` are amounts with their errors
    by product, the ground, and the time of the passes; nothing where ``why_not`` says why.
    """

    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="planned_use")
    made_of = models.CharField(max_length=64)
    worked_out_at = models.DateTimeField()
    facts = models.JSONField(default=dict, blank=True)
    why_not = models.CharField(max_length=600, blank=True)

    def __str__(self) -> str:
        return f"planned use of {self.job}"
