"""Machines and their tanks."""

from django.db import models
from django.urls import reverse

from properties.core.units import Quantity
from properties.models import Firm
from properties.models.fields import QuantityField


class Machine(models.Model):
    """Something that sprays or spreads, with the width it lays and what it carries.

    A sprayer has tanks, a spreader a hopper, perhaps a deflector, and passes.
    """

    KINDS = [
        ("boom_sprayer", "Boom sprayer"),
        ("hand_gun", "Hand gun"),
        ("backpack_sprayer", "Backpack sprayer"),
        ("rotary_spreader", "Rotary spreader"),
        ("drop_spreader", "Drop spreader"),
        ("boomless_sprayer", "Boomless sprayer"),
    ]
    SPREADERS = ("rotary_spreader", "drop_spreader")

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="machines")
    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=30, choices=KINDS)
    swath: "models.Field[Quantity, Quantity]" = QuantityField()
    width: "models.Field[Quantity | None, Quantity | None]" = QuantityField(null=True, blank=True)
    speed: "models.Field[Quantity | None, Quantity | None]" = QuantityField(null=True, blank=True)
    headlands = models.PositiveSmallIntegerField(
        default=1, choices=[(0, "none"), (1, "once"), (2, "twice")]
    )
    hopper: "models.Field[Quantity | None, Quantity | None]" = QuantityField(null=True, blank=True)
    deflector = models.BooleanField(default=False)
    times_over = models.PositiveSmallIntegerField(
        default=2, choices=[(2, "twice, at right angles"), (1, "once")]
    )
    set_up_note = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "name"],
                name="machine_name_once_in_a_firm",
                violation_error_message="There is a machine of this name already.",
            )
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Point to the page of this machine."""
        return reverse("machine", args=[self.pk])

    @property
    def is_spreader(self) -> bool:
        """Whether it puts granules down instead of spray."""
        return self.kind in self.SPREADERS


class Tank(models.Model):
    """One tank of a machine: what it holds, how far it is filled, what cannot be sprayed."""

    machine = models.ForeignKey(Machine, on_delete=models.CASCADE, related_name="tanks")
    position = models.PositiveSmallIntegerField()
    capacity: "models.Field[Quantity, Quantity]" = QuantityField()
    fill_limit: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    unsprayable: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["machine", "position"], name="tank_position_once")
        ]

    def __str__(self) -> str:
        return f"tank {self.position}, {self.capacity}"
