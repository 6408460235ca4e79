"""What is copied from a label: the form, in the order in which a label tells it."""

from typing import Any

from django import forms

from planner.models import LabelLine, LabelSetback, Product
from planner.web.forms.label_parts import LabelPart, label_part
from planner.web.forms.label_rows import (
    IngredientRows,
    LineRows,
    MethodDistanceRows,
    WordRows,
)
from planner.web.forms.label_units import (
    CARRIER,
    DAYS,
    DENSITIES,
    DEPTHS,
    PER_AREA,
    RATES,
    STRENGTHS,
    WAITS,
    wrong_pair,
    wrong_rates,
)
from properties.core.features import KINDS, Role
from properties.core.units import Quantity
from properties.web.forms.quantities import (
    LENGTHS,
    SPEEDS,
    PositiveQuantityField,
    QuantityField,
    TemperatureField,
)

KEPT_FROM = [kind for kind in KINDS.values() if kind.role is Role.PROTECTED]
PAIRS = (
    ("rate_min", "rate_max"),
    ("carrier_min", "carrier_max"),
    ("wind_min", "wind_max"),
    ("temperature_min", "temperature_max"),
)


def _optional(label: str, units: tuple[str, ...], help_text: str = "") -> PositiveQuantityField:
    return PositiveQuantityField(units=units, label=label, required=False, help_text=help_text)


class LabelForm(forms.ModelForm):  # type: ignore[type-arg]
    """The facts of a label. The person copies them from the label in their hand."""

    rate_min = _optional("Lowest rate", RATES)
    rate_max = _optional("Highest rate", RATES, "A label with one rate only: enter it here.")
    carrier_min = _optional("Least finished spray per area", CARRIER)
    carrier_max = _optional("Most finished spray per area", CARRIER)
    strongest_in_water = _optional(
        "Most of it in water", STRENGTHS, "Dilute it at least so far: 1 part in 50 is 2 %."
    )
    least_in_spray = _optional(
        "Least of it in the spray", STRENGTHS, "Where a rate for an area must not fall below it."
    )
    spot_share_max = _optional(
        "Spots on at most so much of a lawn", ("%",), "Where a line of the label is for spots."
    )
    density = _optional("Weight of a measured volume", DENSITIES, "Such as 9.2 lb/gal.")
    wind_min = _optional("Least wind", SPEEDS)
    wind_max = _optional("Most wind allowed", SPEEDS)
    temperature_min = TemperatureField(label="Coldest", required=False)
    temperature_max = TemperatureField(label="Hottest", required=False)
    slow_release = QuantityField(
        units=("%",),
        label="Slow-release share of the nitrogen",
        required=False,
        help_text="0 if the bag names none. Left empty it is unknown.",
    )
    bag = _optional("A bag holds", ("lb", "kg"))
    rain_fast = _optional("Dry time needed before rain", WAITS)
    water_in_depth = _optional("Water it in with", DEPTHS)
    water_in_within = _optional("Water it in within", WAITS)
    irrigation_hold = _optional("No irrigation for", WAITS)
    keep_off = _optional("People and animals stay off for", WAITS)
    per_application = _optional("Most each time", PER_AREA)
    per_year = _optional("Most in a year", PER_AREA)
    interval = _optional("Days between two times", DAYS)
    seeding_after = _optional("Days from spraying until seeding", DAYS)
    seeding_before = _optional("Days from seeding until spraying", DAYS)

    #: The parts of the page: what each is called, and the fields that stand in it.
    GROUPS = {
        "product": ("name", "registration_number", "purpose", "formulation", "signal_word",
                    "density", "kills_turf", "is_invented"),
        "rates": ("rate_min", "rate_max"),
        "spray": ("carrier_min", "carrier_max", "strongest_in_water", "least_in_spray",
                  "spot_share_max", "spot_rate_over_all", "finest_droplets",
                  "coarsest_droplets"),
        "weather": ("wind_min", "wind_max", "temperature_min", "temperature_max", "rain_fast",
                    "water_in_depth", "water_in_within", "irrigation_hold"),
        "fertilizer": ("grade", "slow_release", "bag"),
        "people": ("protection", "keep_off", "until_dry"),
        "limits": ("per_application", "per_year", "year", "season_from", "uses_per_year",
                   "interval", "seeding_after", "seeding_before"),
        "tank": ("mixing_notes",),
    }  # fmt: skip

    class Meta:
        model = Product
        fields = [
            *("name", "registration_number", "purpose", "formulation", "signal_word"),
            *("density", "rate_min", "rate_max", "carrier_min", "carrier_max"),
            *("strongest_in_water", "least_in_spray", "spot_share_max", "spot_rate_over_all"),
            *("finest_droplets", "coarsest_droplets", "wind_min", "wind_max"),
            *("temperature_min", "temperature_max", "rain_fast", "water_in_depth"),
            *("water_in_within", "irrigation_hold", "protection", "keep_off", "until_dry"),
            *("per_application", "per_year", "year", "season_from", "uses_per_year"),
            *("grade", "slow_release", "bag"),
            *("interval", "seeding_after", "seeding_before", "mixing_notes", "is_invented"),
            "kills_turf",
        ]
        labels = {
            "name": "Product",
            "registration_number": "Registration number",
            "purpose": "What it is for",
            "formulation": "Formulation",
            "signal_word": "Signal word",
            "finest_droplets": "Finest drops allowed",
            "coarsest_droplets": "Coarsest drops allowed",
            "protection": "Protective equipment the label asks for",
            "until_dry": "They stay off until the spray has dried",
            "grade": "Grade",
            "spot_rate_over_all": "A rate for spots may go over all of the turf too",
            "kills_turf": "It kills turf: a total herbicide",
            "year": "That year is counted",
            "season_from": "The season begins on",
            "uses_per_year": "How often in a year",
            "mixing_notes": "What it says about mixing",
            "is_invented": "Invented for practice: not a real product",
        }
        help_texts = {
            "season_from": "Month and day, such as 03-01. For a season only.",
            "grade": "The three numbers of the bag: nitrogen, phosphate (P2O5) and potash (K2O), "
            "for example 18-3-9.",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["year"].required = False
        rows = list(self.instance.setbacks.all()) if self.instance.pk else []
        general = {row.kind: row for row in rows if not row.method}
        for kind in KEPT_FROM:
            row = general.get(kind.token)
            self.fields[f"from_{kind.token}"] = QuantityField(
                units=LENGTHS,
                label=kind.name,
                required=False,
                initial=row.distance if row else None,
            )
            self.fields[f"downwind_{kind.token}"] = QuantityField(
                units=LENGTHS,
                label=f"{kind.name}, downwind",
                required=False,
                initial=row.downwind if row else None,
            )
        self.ingredients = IngredientRows(self)
        self.lines = LineRows(self)
        self.method_distances = MethodDistanceRows(self, [row for row in rows if row.method])
        self.words = WordRows(self)

    def group(self, name: str) -> list[forms.BoundField]:
        """List the fields of one part of the page."""
        return [self[field] for field in self.GROUPS[name]]

    def groups(self) -> dict[str, list[forms.BoundField]]:
        """List the fields of every part of the page, by the name of the part."""
        return {name: self.group(name) for name in self.GROUPS}

    def parts(self) -> dict[str, LabelPart]:
        """Say of every part of the page what is filled in; the first are open for a new label."""
        is_new = self.instance.pk is None
        ingredients = [field for row in self.ingredients.rows() for field in row.values()]
        lines = [field for row in self.lines.rows() for field in row.values()]
        by_method = [field for row in self.method_distances.rows() for field in row.values()]
        distances = [field for pair in self.setback_fields() for field in pair]
        told = {
            "product": ("The product", self.group("product")),
            "rates": ("Rates", [*self.group("rates"), *lines]),
            "ingredients": ("What works in it", ingredients),
            "limits": ("How much and how often", self.group("limits")),
            "fertilizer": ("A fertilizer: its grade and its bag", self.group("fertilizer")),
            "spray": ("Spray", self.group("spray")),
            "weather": ("Weather and water", self.group("weather")),
            "people": ("People", self.group("people")),
            "tank": ("In the tank", [*self.words.adjuvants(), *self.group("tank")]),
            "turf": ("Which turf stands it", self.words.turfgrasses()),
            "distances": ("Distances the label asks for", [*distances, *by_method]),
        }
        return {
            name: label_part(title, fields, is_first=is_new and name in ("product", "rates"))
            for name, (title, fields) in told.items()
        }

    def setback_fields(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        """List the distances, all round and downwind, for a part of the page of their own."""
        return [(self[f"from_{kind.token}"], self[f"downwind_{kind.token}"]) for kind in KEPT_FROM]

    def clean_year(self) -> str:
        """Count a calendar year where nothing was chosen."""
        return self.cleaned_data["year"] or "calendar"

    def clean(self) -> dict[str, Any]:
        """Refuse two limits of different kinds, or the wrong way round."""
        typed: dict[str, Any] = super().clean() or {}
        for low, high in PAIRS:
            wrong = wrong_rates if low == "rate_min" else wrong_pair
            problem = wrong(typed.get(low), typed.get(high))
            if problem:
                self.add_error(high, problem)
        for kind in KEPT_FROM:
            near, far = (typed.get(f"{word}_{kind.token}") for word in ("from", "downwind"))
            if far is not None and near is None and f"from_{kind.token}" not in self.errors:
                self.add_error(f"from_{kind.token}", "Enter the distance all round too.")
        self.lines.clean(typed)
        self.method_distances.clean(typed)
        self.ingredients.clean(typed)
        return typed

    def written(self) -> Product:
        """Put what was typed into the product, without keeping it."""
        product: Product = self.save(commit=False)
        product.active_ingredients = self.ingredients.read(self.cleaned_data)
        product.tolerance, product.adjuvants = self.words.read(self.cleaned_data)
        return product

    def setbacks(self) -> dict[str, Quantity]:
        """List the distances all round that were filled in alone, by kind."""
        return {row.kind: row.distance for row in self._general() if row.downwind is None}

    def further_setbacks(self) -> list[LabelSetback]:
        """List the distances that have one downwind too, or hold for one method."""
        downwind = [row for row in self._general() if row.downwind is not None]
        return [*downwind, *self.method_distances.read(self.cleaned_data)]

    def label_lines(self) -> list[LabelLine]:
        """List the lines of the table of rates that were filled in."""
        return self.lines.read(self.cleaned_data)

    def _general(self) -> list[LabelSetback]:
        typed = self.cleaned_data
        return [
            LabelSetback(
                kind=kind.token,
                distance=typed[f"from_{kind.token}"],
                downwind=typed[f"downwind_{kind.token}"],
            )
            for kind in KEPT_FROM
            if typed[f"from_{kind.token}"] is not None
        ]
