"""Notices that a place requires: a sign, a letter, words in a contract, and when."""

from django.db import models
from django.urls import reverse

from properties.models import Firm, Person, Property


class Notice(models.Model):
    """What a law or a code asks a firm to tell somebody, as the customer reads it."""

    TIMES = [
        ("agreement", "Before you agree"),
        ("before", "Before each visit"),
        ("visit", "At each visit"),
        ("after", "After each visit"),
    ]

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="notices")
    #: The one property where it holds, such as a town's own code; everywhere if empty.
    only_at = models.ForeignKey(
        Property, on_delete=models.CASCADE, null=True, blank=True, related_name="notices"
    )
    time = models.CharField(max_length=10, choices=TIMES)
    words = models.TextField(max_length=500)
    source = models.CharField(max_length=300)
    from_on = models.DateField()
    to_on = models.DateField(null=True, blank=True)
    checked_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    checked_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["only_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(to_on__isnull=True) | models.Q(to_on__gte=models.F("from_on")),
                name="notice_ends_after_it_begins",
                violation_error_message="The last day lies before the first.",
            )
        ]

    def __str__(self) -> str:
        return self.words

    def get_absolute_url(self) -> str:
        """Point to the form of this notice."""
        return reverse("edit_notice", args=[self.pk])
