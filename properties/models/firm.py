"""The firm: whose rows these are, its rules of distance and its map layers."""

from django.db import models

from properties.core.features import KINDS, Role
from properties.core.methods import METHOD_NAMES
from properties.core.units import Quantity
from properties.models.fields import QuantityField


class UnitSystem(models.TextChoices):
    """The units in which a person or a firm thinks."""

    US = "us", "US (gallons, fl oz, 1,000 sq ft)"
    METRIC = "metric", "Metric (litres, millilitres, 100 m²)"


class Currency(models.TextChoices):
    """The currencies that a firm may count in; each has a hundred cents."""

    USD = "USD", "US dollar"
    CAD = "CAD", "Canadian dollar"
    AUD = "AUD", "Australian dollar"
    NZD = "NZD", "New Zealand dollar"
    EUR = "EUR", "Euro"
    GBP = "GBP", "Pound sterling"
    MXN = "MXN", "Mexican peso"


class Firm(models.Model):
    """A business of licensed applicators. Every other row belongs to one."""

    name = models.CharField(max_length=120)
    units = models.CharField(max_length=10, choices=UnitSystem, default=UnitSystem.US)
    founded_at = models.DateTimeField()
    #: Whether a label must be compared by a second person before anything is planned with it.
    labels_need_check = models.BooleanField(default=False)
    #: What stands at the head of what a customer reads.
    address = models.CharField(max_length=200, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    licence = models.CharField(max_length=80, blank=True)
    currency = models.CharField(max_length=3, choices=Currency, default=Currency.USD)

    def __str__(self) -> str:
        return self.name


class SetbackRule(models.Model):
    """How far a firm stays from a kind of feature where nothing stricter is known."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="setback_rules")
    kind = models.CharField(
        max_length=30,
        choices=[(k.token, k.name) for k in KINDS.values() if k.role is Role.PROTECTED],
    )
    method = models.CharField(
        max_length=30,
        blank=True,
        choices=[("", "Any way of applying"), *METHOD_NAMES.items()],
    )
    distance: "models.Field[Quantity, Quantity]" = QuantityField()
    downwind: "models.Field[Quantity | None, Quantity | None]" = QuantityField(
        null=True, blank=True
    )
    #: The one property where it holds, such as a town's own code; everywhere if empty.
    only_at = models.ForeignKey(
        "properties.Property",
        on_delete=models.CASCADE,
        null=True,
        blank=True,
        related_name="setback_rules",
    )
    source = models.CharField(max_length=300)
    from_on = models.DateField()
    to_on = models.DateField(null=True, blank=True)
    checked_by = models.ForeignKey(
        "properties.Person", on_delete=models.SET_NULL, null=True, blank=True
    )
    checked_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["kind", "method", "only_at", "-from_on"]
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "kind", "method", "from_on"],
                condition=models.Q(only_at__isnull=True),
                name="setback_rule_once_a_day",
                violation_error_message="There is such a rule from that day already.",
            ),
            models.UniqueConstraint(
                fields=["only_at", "kind", "method", "from_on"],
                condition=models.Q(only_at__isnull=False),
                name="setback_rule_once_a_day_at_a_property",
                violation_error_message="This property has such a rule from that day already.",
            ),
            models.CheckConstraint(
                condition=models.Q(to_on__isnull=True) | models.Q(to_on__gte=models.F("from_on")),
                name="setback_rule_ends_after_it_begins",
                violation_error_message="The last day lies before the first.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.distance}"


class WindRule(models.Model):
    """How a firm lets the wind move the edge, and when it stops for wind."""

    JUDGED = [
        ("sector", "By a sector: spray may not stand upwind of any part of the feature"),
        ("facing", "By the side: only where the nearest part of the feature lies downwind"),
    ]

    firm = models.OneToOneField(Firm, on_delete=models.CASCADE, related_name="wind_rule")
    half_angle: "models.Field[Quantity, Quantity]" = QuantityField()
    judged = models.CharField(max_length=10, choices=JUDGED, default="sector")
    hold_above: "models.Field[Quantity, Quantity]" = QuantityField()
    calm_below: "models.Field[Quantity, Quantity]" = QuantityField()
    source = models.CharField(max_length=300)
    checked_by = models.ForeignKey(
        "properties.Person", on_delete=models.SET_NULL, null=True, blank=True
    )
    checked_on = models.DateField(null=True, blank=True)

    def __str__(self) -> str:
        return f"wind rule of {self.firm}"


MEASURED_BY = [
    ("imagery", "Drawn on a picture from above"),
    ("walked", "Walked with a telephone"),
    ("tape", "Measured by tape or wheel"),
]


class PositionError(models.Model):
    """How far a corner may be out, by how it was measured, in the eyes of a firm."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="position_errors")
    measured_by = models.CharField(max_length=10, choices=MEASURED_BY)
    error: "models.Field[Quantity, Quantity]" = QuantityField()
    source = models.CharField(max_length=300)
    checked_by = models.ForeignKey(
        "properties.Person", on_delete=models.SET_NULL, null=True, blank=True
    )
    checked_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["measured_by"]
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "measured_by"], name="position_error_once_a_way"
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_measured_by_display()}: {self.error}"


class TileLayer(models.Model):
    """A tiled map that a firm has the right to use, shown under its drawings."""

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="tile_layers")
    name = models.CharField(max_length=60)
    url = models.CharField(max_length=300)
    credit = models.CharField(max_length=200, blank=True)
    max_native_zoom = models.PositiveSmallIntegerField(default=19)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name
