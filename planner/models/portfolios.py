"""Many properties on one quote: lots, the common areas they share, and what was quoted."""

from decimal import Decimal

from django.db import models
from django.urls import reverse

from planner.core.money import ZERO
from planner.core.portfolio import Sharing
from planner.models.programmes import Programme
from properties.models import Customer, Firm, Person, Property


class Portfolio(models.Model):
    """Properties of one customer that are quoted together, such as those of an association."""

    SHARING = [
        (Sharing.EQUAL.value, "By equal parts"),
        (Sharing.AREA.value, "By the area of each lot"),
        (Sharing.GIVEN.value, "By given shares"),
    ]

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="portfolios")
    name = models.CharField(max_length=120)
    customer = models.ForeignKey(Customer, on_delete=models.PROTECT, related_name="portfolios")
    sharing = models.CharField(max_length=10, choices=SHARING, default=Sharing.EQUAL.value)
    #: Counts the edits: a form that began from an older one is not kept over a newer one.
    edition = models.PositiveIntegerField(default=1)
    edited_at = models.DateTimeField()
    edited_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "name"],
                name="portfolio_name_once_in_a_firm",
                violation_error_message="There is a portfolio of this name already.",
            )
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Point to the page of this portfolio."""
        return reverse("portfolio", args=[self.pk])


class PortfolioMember(models.Model):
    """One property of a portfolio: a lot that pays, or a common area that the lots share."""

    portfolio = models.ForeignKey(Portfolio, on_delete=models.CASCADE, related_name="members")
    place = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="portfolio_members")
    is_common = models.BooleanField(default=False)
    #: What it bears of what is common, where shares are given.
    share = models.DecimalField(max_digits=9, decimal_places=4, null=True, blank=True)

    class Meta:
        ordering = ["is_common", "place__name", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["portfolio", "place"], name="portfolio_member_once"),
            models.CheckConstraint(
                condition=models.Q(share__isnull=True) | models.Q(share__gte=0),
                name="portfolio_share_is_not_below_zero",
                violation_error_message="A share is not below zero.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.place} of {self.portfolio}"


class PortfolioQuote(models.Model):
    """A portfolio as it was priced once, for a programme in a year. It never changes.

    Where a property could not be priced there is no price at all, and the faults say why.
    """

    portfolio = models.ForeignKey(Portfolio, on_delete=models.CASCADE, related_name="quotes")
    number = models.PositiveIntegerField()
    programme = models.ForeignKey(Programme, on_delete=models.PROTECT, related_name="+")
    year = models.PositiveSmallIntegerField()
    sharing = models.CharField(max_length=10, choices=Portfolio.SHARING)
    #: Name and version of the price book, the currency, and what to look at first.
    terms = models.JSONField(default=dict, blank=True)
    net = models.DecimalField(max_digits=14, decimal_places=2, null=True, blank=True)
    tax = models.DecimalField(max_digits=14, decimal_places=2, null=True, blank=True)
    total = models.DecimalField(max_digits=14, decimal_places=2, null=True, blank=True)
    #: What keeps it from having a price: the property and a sentence each.
    faults = models.JSONField(default=list, blank=True)
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    accepted_on = models.DateField(null=True, blank=True)
    accepted_name = models.CharField(max_length=120, blank=True)
    taken_at = models.DateTimeField(null=True, blank=True)
    taken_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(
                fields=["portfolio", "number"], name="portfolio_quote_number_once"
            )
        ]

    def __str__(self) -> str:
        return f"{self.portfolio}, quote {self.number}"

    def get_absolute_url(self) -> str:
        """Point to the page of this quote."""
        return reverse("portfolio_quote", args=[self.pk])


class PortfolioLine(models.Model):
    """What one property of a portfolio quote costs, and what it pays, as it was worked out."""

    quote = models.ForeignKey(PortfolioQuote, on_delete=models.CASCADE, related_name="lines")
    place = models.ForeignKey(Property, on_delete=models.PROTECT, related_name="+")
    position = models.PositiveIntegerField()
    is_common = models.BooleanField()
    #: The area was stated and not drawn.
    is_stated = models.BooleanField()
    area_m2 = models.FloatField()
    own_net = models.DecimalField(max_digits=14, decimal_places=2)
    own_tax = models.DecimalField(max_digits=14, decimal_places=2)
    #: What it pays before and with tax; nothing for a common area, which the lots pay.
    net = models.DecimalField(max_digits=14, decimal_places=2)
    tax = models.DecimalField(max_digits=14, decimal_places=2)
    #: Its own price with every working, and the working of its shares.
    price = models.JSONField()
    shares = models.JSONField(default=list, blank=True)

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["quote", "place"], name="portfolio_line_once")
        ]

    def __str__(self) -> str:
        return f"{self.place} on {self.quote}"

    @property
    def common_net(self) -> Decimal:
        """Its share of common areas, before tax."""
        return ZERO if self.is_common else self.net - self.own_net

    @property
    def total(self) -> Decimal:
        """What it pays, tax and all."""
        return self.net + self.tax
