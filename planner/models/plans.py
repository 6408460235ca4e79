"""Plans that somebody kept: what was asked and what came out, frozen."""

from django.db import models
from django.urls import reverse

from planner.models.equipment import Machine
from planner.models.mixes import Mix
from properties.models import Person, Property


class KeptPlan(models.Model):
    """A plan as it was when somebody kept it. Nothing that changes later changes it."""

    property = models.ForeignKey(Property, on_delete=models.CASCADE, related_name="kept_plans")
    drawing_number = models.PositiveIntegerField()
    machine = models.ForeignKey(Machine, on_delete=models.SET_NULL, null=True, blank=True)
    machine_name = models.CharField(max_length=80)
    mix = models.ForeignKey(Mix, on_delete=models.SET_NULL, null=True, blank=True)
    mix_name = models.CharField(max_length=120)
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    #: What was asked, as the address of the plan page has it: to ask it again.
    question = models.CharField(max_length=2000)
    request = models.JSONField()
    plan = models.JSONField()
    note = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["-made_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.property}, {self.made_at:%b %-d %Y}"

    def get_absolute_url(self) -> str:
        """Point to the page of this plan."""
        return reverse("kept_plan", args=[self.pk])
