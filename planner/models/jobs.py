"""Jobs: work that is due on one property, a round of a programme or a single visit."""

from django.db import models

from planner.models.equipment import Machine
from planner.models.mixes import Mix
from planner.models.programmes import Programme, Round
from properties.models import Firm, Person, Property


class Job(models.Model):
    """One round that is due on one property, or a single visit: when, with what, how it stands.

    What it takes from its round stays as it was when the job was made.
    """

    STATES = [
        ("planned", "planned"),
        ("done", "done"),
        ("skipped", "skipped"),
        ("cancelled", "cancelled"),
    ]

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="jobs")
    place = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="jobs")
    programme = models.ForeignKey(
        Programme, on_delete=models.SET_NULL, null=True, blank=True, related_name="jobs"
    )
    round = models.ForeignKey(
        Round, on_delete=models.SET_NULL, null=True, blank=True, related_name="jobs"
    )
    year = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=120)
    mix = models.ForeignKey(Mix, on_delete=models.PROTECT, related_name="jobs")
    machine = models.ForeignKey(
        Machine, on_delete=models.SET_NULL, null=True, blank=True, related_name="jobs"
    )
    hand_tool = models.ForeignKey(
        Machine, on_delete=models.SET_NULL, null=True, blank=True, related_name="hand_jobs"
    )
    from_on = models.DateField()
    to_on = models.DateField(db_index=True)
    state = models.CharField(max_length=10, choices=STATES, default="planned", db_index=True)
    done_on = models.DateField(null=True, blank=True)
    why = models.CharField(max_length=300, blank=True)
    #: What was accepted, where it comes of a quote.
    quote_option = models.ForeignKey(
        "planner.QuoteOption",
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="jobs",
    )
    #: As it was accepted with a quote, in the money of the firm.
    price = models.DecimalField(max_digits=12, decimal_places=2, null=True, blank=True)
    made_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    made_at = models.DateTimeField()
    said_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    said_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["from_on", "to_on", "place__name", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["place", "round", "year"],
                condition=models.Q(round__isnull=False),
                name="job_once_for_a_round_of_a_year",
                violation_error_message="This round is a job of that property already.",
            ),
            models.CheckConstraint(
                condition=models.Q(to_on__gte=models.F("from_on")),
                name="job_ends_after_it_begins",
                violation_error_message="The last day lies before the first.",
            ),
            models.CheckConstraint(
                condition=~models.Q(state="done") | models.Q(done_on__isnull=False),
                name="job_done_on_a_day",
                violation_error_message="Enter the day on which it was done.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name}, {self.place}"
