"""What each tank held, and who confirmed that it was rinsed."""

from django.db import models

from planner.models.equipment import Machine
from properties.models import Person


class TankUse(models.Model):
    """Something that was mixed in one tank of a machine. The newest is what it held last."""

    machine = models.ForeignKey(Machine, on_delete=models.CASCADE, related_name="tank_uses")
    tank = models.PositiveSmallIntegerField()
    #: The names of the products, as they were called then.
    held = models.JSONField()
    kills_turf = models.BooleanField(default=False)
    mixed_at = models.DateTimeField()
    mixed_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    rinsed_at = models.DateTimeField(null=True, blank=True)
    rinsed_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    #: Who that was, also when they have left.
    rinsed_by_name = models.CharField(max_length=120, blank=True)
    rinsed_how = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["-mixed_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(rinsed_at__isnull=True) | ~models.Q(rinsed_how=""),
                name="tank_rinse_tells_how",
                violation_error_message="Write how the tank was rinsed.",
            )
        ]

    def __str__(self) -> str:
        return f"tank {self.tank} of {self.machine}: {', '.join(self.held)}"
