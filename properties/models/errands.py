"""Work that the service does by itself, while nobody has to wait for a page."""

from django.db import models
from django.urls import reverse

from properties.models.firm import Firm
from properties.models.people import Person


class Errand(models.Model):
    """One piece of such work: who asked for it, how far it is, how it ended.

    What it writes is written in one transaction at its end, together with the state
    here: an errand that was stopped, failed or broke off has written nothing.
    """

    class State(models.TextChoices):
        """Where an errand stands."""

        WAITING = "waiting", "Waiting"
        RUNNING = "running", "Under way"
        DONE = "done", "Done"
        STOPPED = "stopped", "Stopped"
        FAILED = "failed", "Not done"

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="errands")
    asked_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    title = models.CharField(max_length=200)
    #: The dotted name of the task that does it, so that it can be begun again.
    task = models.CharField(max_length=200)
    #: What the task needs to know, as plain JSON.
    about = models.JSONField(default=dict, blank=True)
    state = models.CharField(max_length=10, choices=State, default=State.WAITING)
    done = models.PositiveIntegerField(default=0)
    total = models.PositiveIntegerField(default=0)
    message = models.CharField(max_length=1000, blank=True)
    #: The page that shows what came of it.
    outcome_url = models.CharField(max_length=300, blank=True)
    #: Counts the beginnings, so that a run which was taken for dead writes nothing.
    attempt = models.PositiveIntegerField(default=0)
    asked_at = models.DateTimeField()
    begun_at = models.DateTimeField(null=True, blank=True)
    heard_at = models.DateTimeField(null=True, blank=True)
    stop_asked_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-pk"]
        indexes = [models.Index(fields=["state", "heard_at"], name="errand_by_state")]

    def __str__(self) -> str:
        return self.title

    def get_absolute_url(self) -> str:
        """Point to the page of this errand."""
        return reverse("errand", args=[self.pk])
