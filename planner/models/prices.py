"""What a firm asks for: price books in their versions, and rates of tax."""

from django.db import models
from django.urls import reverse

from properties.models import Firm, Person, Property


class PriceBook(models.Model):
    """A price book by its name; what it says stands in its versions."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="price_books")
    name = models.CharField(max_length=80)
    #: The one to price by where nobody chooses another.
    is_usual = models.BooleanField(default=False)

    class Meta:
        ordering = ["-is_usual", "name"]
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "name"],
                name="price_book_name_once_in_a_firm",
                violation_error_message="There is a price book of this name already.",
            ),
            models.UniqueConstraint(
                fields=["firm"],
                condition=models.Q(is_usual=True),
                name="price_book_usual_once_in_a_firm",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Point to the page of this book."""
        return reverse("price_book", args=[self.pk])


class PriceBookVersion(models.Model):
    """What a price book said from one edit to the next. It never changes."""

    book = models.ForeignKey(PriceBook, on_delete=models.CASCADE, related_name="versions")
    number = models.PositiveIntegerField()
    terms = models.JSONField()
    note = models.CharField(max_length=300, blank=True)
    made_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    made_at = models.DateTimeField()

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["book", "number"], name="price_book_version_once")
        ]

    def __str__(self) -> str:
        return f"{self.book} version {self.number}"


class TaxRule(models.Model):
    """A rate of tax: where and when it holds, on what it falls, who says so."""

    TAXED = [
        ("everything", "The whole price"),
        ("material", "The material’s share of the price"),
        ("service", "The share of the price that is work"),
    ]

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="tax_rules")
    name = models.CharField(max_length=80)
    percent = models.DecimalField(max_digits=7, decimal_places=4)
    taxed = models.CharField(max_length=12, choices=TAXED, default="everything")
    #: Words of an address: it holds where they stand in it; everywhere if empty.
    where = models.CharField(max_length=120, blank=True)
    #: The one property where it holds; else wherever ``where`` says.
    only_at = models.ForeignKey(
        Property, on_delete=models.CASCADE, null=True, blank=True, related_name="tax_rules"
    )
    source = models.CharField(max_length=300)
    from_on = models.DateField()
    to_on = models.DateField(null=True, blank=True)
    checked_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    checked_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["name", "from_on"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(percent__gte=0) & models.Q(percent__lte=100),
                name="tax_rule_is_a_share",
                violation_error_message="A rate of tax is from 0 to 100 percent.",
            ),
            models.CheckConstraint(
                condition=models.Q(to_on__isnull=True) | models.Q(to_on__gte=models.F("from_on")),
                name="tax_rule_ends_after_it_begins",
                violation_error_message="The last day lies before the first.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name}, {self.percent.normalize():f} %"
