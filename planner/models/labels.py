"""Products as facts that a person copied from the label in their hand, with every version."""

from django.db import models
from django.urls import reverse

from planner.core.label.facts import Droplets, SignalWord, Use
from planner.core.label.limits import YearKind
from planner.core.mix.mixing import FORMULATIONS, WORDS
from properties.core.features import KINDS, Role
from properties.core.methods import METHOD_NAMES
from properties.core.turfgrasses import TURFGRASSES
from properties.core.units import Quantity
from properties.models import Firm, Person
from properties.models.fields import QuantityField


def _quantity() -> "models.Field[Quantity | None, Quantity | None]":
    """A quantity that nobody need have copied."""
    return QuantityField(null=True, blank=True)


class Product(models.Model):
    """A product and what its label allows. What is empty nobody copied."""

    FORMULATIONS_TO_CHOOSE = [
        ("", "Not known yet"),
        *((form.token, f"{form.token} ({WORDS[form.step]})") for form in FORMULATIONS.values()),
    ]
    SIGNAL_WORDS = [
        ("", "None, or not copied yet"),
        (SignalWord.CAUTION.value, "Caution"),
        (SignalWord.WARNING.value, "Warning"),
        (SignalWord.DANGER.value, "Danger"),
        (SignalWord.DANGER_POISON.value, "Danger, poison"),
    ]
    DROPLETS = [("", "Not told"), *((size.value, size.replace("_", " ")) for size in Droplets)]
    YEARS = [
        (YearKind.CALENDAR.value, "in a calendar year"),
        (YearKind.ROLLING.value, "in any twelve months"),
        (YearKind.SEASON.value, "in a season"),
    ]

    firm = models.ForeignKey(Firm, on_delete=models.CASCADE, related_name="products")
    name = models.CharField(max_length=120)
    registration_number = models.CharField(max_length=60, blank=True)
    purpose = models.CharField(max_length=120, blank=True)
    formulation = models.CharField(max_length=30, choices=FORMULATIONS_TO_CHOOSE, blank=True)
    signal_word = models.CharField(max_length=20, choices=SIGNAL_WORDS, blank=True)
    density = _quantity()
    #: What works in it, as a plan request lists it: name, content, limits of its own.
    active_ingredients = models.JSONField(default=list, blank=True)

    rate_min = _quantity()
    rate_max = _quantity()
    carrier_min = _quantity()
    carrier_max = _quantity()
    strongest_in_water = _quantity()
    least_in_spray = _quantity()
    #: The most of a lawn that spots may be, and whether their rate may go over all of it.
    spot_share_max = _quantity()
    spot_rate_over_all = models.BooleanField(default=False)
    finest_droplets = models.CharField(max_length=20, choices=DROPLETS, blank=True)
    coarsest_droplets = models.CharField(max_length=20, choices=DROPLETS, blank=True)

    wind_min = _quantity()
    wind_max = _quantity()
    temperature_min = _quantity()
    temperature_max = _quantity()
    rain_fast = _quantity()
    water_in_depth = _quantity()
    water_in_within = _quantity()
    irrigation_hold = _quantity()

    #: Of a fertilizer: N-P2O5-K2O, the slow share of its nitrogen, what a bag holds.
    grade = models.CharField(max_length=20, blank=True)
    slow_release = _quantity()
    bag = _quantity()

    protection = models.CharField(max_length=300, blank=True)
    keep_off = _quantity()
    until_dry = models.BooleanField(default=False)
    kills_turf = models.BooleanField(default=False)

    per_application = _quantity()
    per_year = _quantity()
    year = models.CharField(max_length=10, choices=YEARS, default=YearKind.CALENDAR.value)
    #: Month and day, such as 03-01.
    season_from = models.CharField(max_length=5, blank=True)
    uses_per_year = models.PositiveSmallIntegerField(null=True, blank=True)
    interval = _quantity()
    seeding_after = _quantity()
    seeding_before = _quantity()

    #: By turfgrass and by adjuvant, in the words of a plan request.
    tolerance = models.JSONField(default=dict, blank=True)
    adjuvants = models.JSONField(default=dict, blank=True)
    mixing_notes = models.CharField(max_length=300, blank=True)

    is_invented = models.BooleanField(default=False)
    entered_by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, blank=True)
    entered_at = models.DateTimeField()

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(
                fields=["firm", "name"],
                name="product_name_once_in_a_firm",
                violation_error_message="There is a product of this name already.",
            )
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Point to the page of this label."""
        return reverse("label", args=[self.pk])


class LabelLine(models.Model):
    """One line of a label’s table of rates: for what, on which turf, how put out."""

    USES = [
        (Use.BROADCAST.value, "over the whole turf"),
        (Use.SPOT.value, "on spots"),
        (Use.PER_PLANT.value, "for each plant"),
    ]

    TURF = [("", "any turf"), *TURFGRASSES.items()]

    product = models.ForeignKey(Product, on_delete=models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField()
    target = models.CharField(max_length=120)
    turf = models.CharField(max_length=30, choices=TURF, blank=True)
    use = models.CharField(max_length=10, choices=USES, default=Use.BROADCAST.value)
    rate_min = _quantity()
    rate_max = _quantity()

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["product", "position"], name="label_line_once")
        ]

    def __str__(self) -> str:
        turf = f" on {self.get_turf_display()}" if self.turf else ""
        return f"{self.target}{turf}, {self.get_use_display()}"


class LabelSetback(models.Model):
    """A distance that a label asks for from a kind of feature, in general or for one method."""

    KINDS_TO_CHOOSE = [(k.token, k.name) for k in KINDS.values() if k.role is Role.PROTECTED]
    METHODS = [(method.value, name) for method, name in METHOD_NAMES.items()]

    product = models.ForeignKey(Product, on_delete=models.CASCADE, related_name="setbacks")
    kind = models.CharField(max_length=30, choices=KINDS_TO_CHOOSE)
    method = models.CharField(
        max_length=30, blank=True, choices=[("", "Any way of applying"), *METHODS]
    )
    distance: "models.Field[Quantity, Quantity]" = QuantityField()
    downwind = _quantity()

    class Meta:
        ordering = ["kind", "method"]
        constraints = [
            models.UniqueConstraint(
                fields=["product", "kind", "method"],
                name="label_setback_once_a_kind",
                violation_error_message="The label names this kind of feature twice.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.distance}"


class LabelVersion(models.Model):
    """What a label said from one day on: frozen, with who copied it and who compared it."""

    product = models.ForeignKey(Product, on_delete=models.CASCADE, related_name="versions")
    number = models.PositiveIntegerField()
    facts = models.JSONField()
    entered_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    entered_at = models.DateTimeField()
    checked_by = models.ForeignKey(
        Person, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    checked_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["product", "number"], name="label_version_once")
        ]

    def __str__(self) -> str:
        return f"{self.product}, version {self.number}"
