"""Quotes: revisions, the options of each side by side, what was sent, and what was answered.

A revision is a draft until it is sent. From then on its document holds: bytes with their
hashes, which nothing that is edited later changes.
"""

import secrets

from django.db import models
from django.urls import reverse

from planner.core.quote.states import QuoteState
from planner.models.equipment import Machine
from planner.models.mixes import Mix
from planner.models.programmes import Programme, Round
from properties.models import Firm, Person, Property

LONGEST_TITLE = 80


def new_link() -> str:
    """Make the secret part of a link: 256 bits that nobody can guess."""
    return secrets.token_urlsafe(32)


class Quote(models.Model):
    """What a firm offers for one property and year, in as many revisions as it takes."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="quotes")
    place = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="quotes")
    year = models.PositiveSmallIntegerField()
    #: Counted in the firm and the year.
    number = models.PositiveIntegerField()
    begun_at = models.DateTimeField()
    begun_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-year", "-number"]
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "year", "number"], name="quote_number_once_in_a_year"
            )
        ]

    def __str__(self) -> str:
        return f"{self.year}-{self.number:03}"

    def get_absolute_url(self) -> str:
        """Point to the page of this quote."""
        return reverse("quote", args=[self.pk])


class QuoteRevision(models.Model):
    """One revision of a quote: what is written to the customer, and how far it has come."""

    STATES = [(state.value, state.value) for state in QuoteState if state != QuoteState.EXPIRED]

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="revisions")
    number = models.PositiveSmallIntegerField(default=1)
    state = models.CharField(max_length=10, choices=STATES, default="draft", db_index=True)
    valid_until = models.DateField()
    message = models.TextField(max_length=2000, blank=True)
    #: Counts the edits: a form that began from an older one is not kept over a newer one.
    edition = models.PositiveIntegerField(default=1)
    link = models.CharField(max_length=64, unique=True, default=new_link)
    sent_at = models.DateTimeField(null=True, blank=True)
    sent_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    seen_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["quote", "number"], name="quote_revision_once"),
            models.UniqueConstraint(
                fields=["quote"],
                condition=models.Q(state="draft"),
                name="quote_has_one_draft",
                violation_error_message="There is a draft of this quote already.",
            ),
            models.CheckConstraint(
                condition=models.Q(state="draft") | models.Q(sent_at__isnull=False),
                name="quote_sent_at_a_moment",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quote} revision {self.number}"


class QuoteEdit(models.Model):
    """One edit of a draft in the words of its form: who, when, what it said then."""

    revision = models.ForeignKey(QuoteRevision, on_delete=models.CASCADE, related_name="edits")
    edition = models.PositiveIntegerField()
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    told = models.JSONField()

    class Meta:
        ordering = ["-edition"]
        constraints = [
            models.UniqueConstraint(fields=["revision", "edition"], name="quote_edition_once")
        ]

    def __str__(self) -> str:
        return f"{self.revision}, edit {self.edition}"


class QuoteOption(models.Model):
    """One of the options that stand side by side: a programme, or a single visit."""

    revision = models.ForeignKey(QuoteRevision, on_delete=models.CASCADE, related_name="options")
    position = models.PositiveSmallIntegerField()
    title = models.CharField(max_length=LONGEST_TITLE)
    words = models.CharField(max_length=500, blank=True)
    programme = models.ForeignKey(
        Programme, on_delete=models.PROTECT, null=True, blank=True, related_name="quote_options"
    )
    mix = models.ForeignKey(
        Mix, on_delete=models.PROTECT, null=True, blank=True, related_name="quote_options"
    )
    machine = models.ForeignKey(
        Machine, on_delete=models.PROTECT, null=True, blank=True, related_name="quote_options"
    )
    hand_tool = models.ForeignKey(
        Machine, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    from_on = models.DateField(null=True, blank=True)
    to_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(
                fields=["revision", "position"], name="quote_option_position_once"
            ),
            models.CheckConstraint(
                condition=models.Q(programme__isnull=False) ^ models.Q(mix__isnull=False),
                name="quote_option_is_a_programme_or_a_visit",
                violation_error_message="Choose a programme, or a mix for a single visit.",
            ),
            models.CheckConstraint(
                condition=models.Q(to_on__isnull=True) | models.Q(to_on__gte=models.F("from_on")),
                name="quote_option_ends_after_it_begins",
                violation_error_message="The last day lies before the first.",
            ),
        ]

    def __str__(self) -> str:
        return self.title


class QuoteVisit(models.Model):
    """One visit of an option as it was sent: its days, mix, tool and price do not change."""

    option = models.ForeignKey(QuoteOption, on_delete=models.CASCADE, related_name="visits")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=120)
    round = models.ForeignKey(
        Round, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    mix = models.ForeignKey(Mix, on_delete=models.PROTECT, related_name="+")
    machine = models.ForeignKey(Machine, on_delete=models.SET_NULL, null=True, related_name="+")
    hand_tool = models.ForeignKey(
        Machine, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    from_on = models.DateField()
    to_on = models.DateField()
    price = models.DecimalField(max_digits=12, decimal_places=2)

    class Meta:
        ordering = ["position"]

    def __str__(self) -> str:
        return self.name


class QuoteDocument(models.Model):
    """A revision as it was sent: its content and its two papers, byte for byte."""

    revision = models.OneToOneField(
        QuoteRevision, on_delete=models.PROTECT, related_name="document"
    )
    made_at = models.DateTimeField()
    content = models.BinaryField()
    content_sha256 = models.CharField(max_length=64)
    letter = models.BinaryField()
    letter_sha256 = models.CharField(max_length=64)
    a4 = models.BinaryField()
    a4_sha256 = models.CharField(max_length=64)
    #: What is to pay for each option, in words, by its letter: for lists.
    totals = models.JSONField(default=dict)
    #: Costs and margin of each option, for the owner alone.
    inside = models.JSONField(default=dict, blank=True)

    def __str__(self) -> str:
        return f"{self.revision} as it was sent"


class QuoteAnswer(models.Model):
    """What the customer answered to a revision, once: the record in bytes, with its hash."""

    KINDS = [("accepted", "accepted"), ("declined", "declined")]

    revision = models.OneToOneField(QuoteRevision, on_delete=models.PROTECT, related_name="answer")
    kind = models.CharField(max_length=10, choices=KINDS)
    option = models.ForeignKey(
        QuoteOption, on_delete=models.PROTECT, null=True, blank=True, related_name="answers"
    )
    name = models.CharField(max_length=120)
    answered_on = models.DateField()
    answered_at = models.DateTimeField()
    reason = models.TextField(max_length=1000, blank=True)
    #: Who of the firm wrote it down, where it came on paper or by telephone.
    taken_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    record = models.BinaryField()
    record_sha256 = models.CharField(max_length=64)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(kind="accepted") | models.Q(option__isnull=False),
                name="quote_accepted_with_an_option",
            )
        ]

    def __str__(self) -> str:
        return f"{self.revision} {self.kind} by {self.name}"

    @property
    def letter(self) -> str:
        """The letter of the option, as the customer reads it."""
        return "" if self.option is None else chr(ord("A") + self.option.position - 1)


class QuoteQuestion(models.Model):
    """What the customer asked on the page of a quote, and what the firm replied there."""

    revision = models.ForeignKey(QuoteRevision, on_delete=models.CASCADE, related_name="questions")
    name = models.CharField(max_length=120)
    words = models.TextField(max_length=2000)
    asked_at = models.DateTimeField()
    reply = models.TextField(max_length=2000, blank=True)
    replied_at = models.DateTimeField(null=True, blank=True)
    replied_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["asked_at", "pk"]

    def __str__(self) -> str:
        return f"question of {self.name} about {self.revision}"
