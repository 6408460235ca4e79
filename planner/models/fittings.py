"""What is fitted to a machine and how it is set up now; the measures that go along."""

from django.db import models

from planner.core.label.facts import Droplets
from planner.core.machine.tips import NEW_TIP_FLOWS
from planner.models.equipment import Machine
from properties.core.units import Quantity
from properties.models import Firm, Person
from properties.models.fields import QuantityField


class Fittings(models.Model):
    """What is fitted to a machine, its present set-up, and how long its calibrations hold.

    Whatever is empty is not known. A calibration belongs to the set-up it was made with.
    """

    TIP_SIZES = [("", "not told"), *((size, size) for size in NEW_TIP_FLOWS)]
    DROPLETS = [("", "not told"), *((each.value, each.replace("_", " ")) for each in Droplets)]
    PUMPS = [("fixed", "Keeps its flow"), ("speed_tied", "Follows the speed")]

    machine = models.OneToOneField(Machine, on_delete=models.CASCADE, related_name="fittings")
    tips = models.CharField(max_length=80, blank=True)
    pressure: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    pace = models.CharField(max_length=80, blank=True)
    worked_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    nozzles = models.PositiveSmallIntegerField(null=True, blank=True)
    nozzle_spacing: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    tip_size = models.CharField(max_length=3, choices=TIP_SIZES, blank=True)
    droplets = models.CharField(max_length=20, choices=DROPLETS, blank=True)
    fan_angle: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    boom_height: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    sides = models.PositiveSmallIntegerField(null=True, blank=True)
    pump = models.CharField(max_length=20, choices=PUMPS, blank=True)
    hose_length: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    hose_bore: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    good_for_days = models.PositiveSmallIntegerField(null=True, blank=True)
    good_for_area: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )

    def __str__(self) -> str:
        return f"fittings of {self.machine}"


class Measure(models.Model):
    """A jug, cup, syringe or scale of a firm, and the distance between two of its marks."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="measures")
    mark: "models.Field[Quantity, Quantity]" = QuantityField()

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["firm", "mark"], name="measure_once")]

    def __str__(self) -> str:
        return f"marks of {self.mark}"
