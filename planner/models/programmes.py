"""Programmes of a firm: the rounds of a season, in their order, for some turfgrasses."""

from django.db import models
from django.urls import reverse

from planner.models.blackouts import month_day_words
from planner.models.equipment import Machine
from planner.models.mixes import Mix
from properties.core.units import Quantity
from properties.models import Firm, Property
from properties.models.fields import QuantityField


class Programme(models.Model):
    """A season of rounds that a firm offers; which properties have it stands in their jobs."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="programmes")
    name = models.CharField(max_length=120)
    #: The words of the turfgrasses it is meant for; any if empty.
    turfgrasses = models.JSONField(default=list, blank=True)
    note = models.CharField(max_length=300, blank=True)
    #: Counted up at every change, so that two people do not overwrite each other.
    version = models.PositiveIntegerField(default=1)
    #: No longer offered; its jobs stay.
    is_retired = models.BooleanField(default=False)

    class Meta:
        ordering = ["is_retired", "name"]
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "name"],
                name="programme_name_once_in_a_firm",
                violation_error_message="There is a programme of this name already.",
            )
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Point to the page of this programme."""
        return reverse("programme", args=[self.pk])


class Round(models.Model):
    """One round of a programme: when it is due, and what goes down with which tool.

    ``from_day`` and ``to_day`` are month and day. A round that waits for warm soil or for
    degree days has them too: the days on which this is usually so, to plan the year by.
    """

    OPENED_BY = [
        ("dates", "Dates"),
        ("soil", "Soil temperature"),
        ("degree_days", "Degree days"),
    ]
    WAYS = [("rising", "has risen to"), ("falling", "has fallen to")]
    FORMULAS = [
        ("averaging", "Averaging: mean of the day less the base"),
        ("modified", "Modified: cut off at the base and at an upper temperature"),
    ]

    programme = models.ForeignKey(Programme, on_delete=models.CASCADE, related_name="rounds")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=80)
    from_day = models.CharField(max_length=5)
    to_day = models.CharField(max_length=5)
    over_new_year = models.BooleanField(default=False)
    opened_by = models.CharField(max_length=15, choices=OPENED_BY, default="dates")
    soil_at: "models.Field[Quantity | None, Quantity | None]" = QuantityField(null=True, blank=True)
    soil_way = models.CharField(max_length=10, choices=WAYS, default="rising")
    soil_days = models.PositiveSmallIntegerField(null=True, blank=True)
    formula = models.CharField(max_length=10, choices=FORMULAS, default="averaging")
    base: "models.Field[Quantity | None, Quantity | None]" = QuantityField(null=True, blank=True)
    cut_off: "models.Field[Quantity | None, Quantity | None]" = QuantityField(null=True, blank=True)
    counted_from = models.CharField(max_length=5, blank=True)
    degree_days_from: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    degree_days_to: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    mix = models.ForeignKey(Mix, on_delete=models.PROTECT, related_name="rounds")
    machine = models.ForeignKey(Machine, on_delete=models.PROTECT, related_name="rounds")
    hand_tool = models.ForeignKey(
        Machine, on_delete=models.PROTECT, null=True, blank=True, related_name="hand_rounds"
    )

    class Meta:
        ordering = ["programme", "position"]

    def __str__(self) -> str:
        return self.name

    @property
    def first_words(self) -> str:
        """Write the first day in words."""
        return month_day_words(self.from_day)

    @property
    def last_words(self) -> str:
        """Write the last day in words."""
        return month_day_words(self.to_day)

    @property
    def counted_words(self) -> str:
        """Write the day that is counted from in words."""
        return month_day_words(self.counted_from)


class SeasonFinding(models.Model):
    """What came of checking a programme at a property in a year, as it stood then."""

    #: From what most needs somebody's eye to what needs none.
    WORST = [
        ("refused", "does not fit"),
        ("unknown", "cannot be checked"),
        ("part", "fits on a part"),
        ("later", "fits, on a later day"),
        ("fits", "fits"),
    ]

    programme = models.ForeignKey(Programme, on_delete=models.CASCADE, related_name="findings")
    place = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="season_findings")
    year = models.PositiveSmallIntegerField()
    worst = models.CharField(max_length=10, choices=WORST)
    #: The rounds that do not simply fit: name and outcome of each.
    rounds = models.JSONField(default=list)
    #: Lawns that the programme is not meant for.
    unfit = models.JSONField(default=list)
    checked_at = models.DateTimeField()

    class Meta:
        ordering = ["place__name"]
        constraints = [
            models.UniqueConstraint(
                fields=["programme", "place", "year"], name="season_finding_once"
            )
        ]

    def __str__(self) -> str:
        return f"{self.programme} at {self.place}, {self.year}"
