"""The parts of the label form that come in rows: what works in it, its table, its words."""

from collections.abc import Sequence
from typing import Any

from django import forms

from planner.models import LabelLine, LabelSetback
from planner.selectors.labels import ADJUVANTS_TO_CHOOSE, TURFGRASSES_TO_CHOOSE
from planner.web.forms.label_units import CONTENTS, INGREDIENT_LIMITS, LINE_RATES, wrong_rates
from properties.core.units import Quantity, parse_quantity
from properties.web.forms.quantities import LENGTHS, PositiveQuantityField, QuantityField

MOST_INGREDIENTS = 3
MOST_LINES = 5
MOST_METHOD_DISTANCES = 3
TOLERANCE = [
    ("", "not told"), ("tolerates", "stands it"), ("caution", "with care"),
    ("forbidden", "must not"),
]  # fmt: skip
NEEDS = [("", "not told"), ("required", "must be in"), ("forbidden", "must not be in")]

Typed = dict[str, Any]
Row = dict[str, forms.BoundField]


class IngredientRows:
    """What works in the product: name, content, acid equivalent, limits of its own."""

    QUANTITIES = {
        "content": ("How much of it", CONTENTS),
        "acid_equivalent": ("As acid", CONTENTS),
        "per_application": ("Most of it each time", INGREDIENT_LIMITS),
        "per_year": ("Most of it in a year", INGREDIENT_LIMITS),
    }

    def __init__(self, form: forms.ModelForm) -> None:  # type: ignore[type-arg]
        self.form = form
        known = form.instance.active_ingredients
        for n in range(1, MOST_INGREDIENTS + 1):
            row = known[n - 1] if n <= len(known) else {}
            form.fields[f"ingredient_{n}_name"] = forms.CharField(
                label=f"Active ingredient {n}",
                max_length=120,
                required=False,
                initial=row.get("name", ""),
            )
            for word, (label, units) in self.QUANTITIES.items():
                form.fields[f"ingredient_{n}_{word}"] = PositiveQuantityField(
                    units=units,
                    label=f"{label} ({n})",
                    required=False,
                    initial=stored(row.get(word)),
                )

    def rows(self) -> list[Row]:
        """List the boxes of each row."""
        words = ("name", *self.QUANTITIES)
        return [
            {word: self.form[f"ingredient_{n}_{word}"] for word in words}
            for n in range(1, MOST_INGREDIENTS + 1)
        ]

    def first(self) -> Row:
        """List the boxes of the row that most labels need."""
        return self.rows()[0]

    def further(self) -> list[Row]:
        """List the boxes of the rows that some labels need, for a part that unfolds."""
        return self.rows()[1:]

    def further_is_used(self) -> bool:
        """Say whether one of those is filled in, or wrong."""
        return any(row["name"].value() or _is_wrong(row) for row in self.further())

    def clean(self, typed: Typed) -> None:
        """Say beside a row what it lacks."""
        for n in range(1, MOST_INGREDIENTS + 1):
            told = [word for word in self.QUANTITIES if typed.get(f"ingredient_{n}_{word}")]
            name = typed.get(f"ingredient_{n}_name")
            if told and not name:
                self.form.add_error(f"ingredient_{n}_name", "Enter what it is called.")
            if name and typed.get(f"ingredient_{n}_content") is None:
                self.form.add_error(
                    f"ingredient_{n}_content", "Enter how much of it is in the product."
                )

    def read(self, typed: Typed) -> list[dict[str, str]]:
        """List the rows that were filled in, as a plan request has them."""
        read = []
        for n in range(1, MOST_INGREDIENTS + 1):
            if not typed[f"ingredient_{n}_name"]:
                continue
            quantities = {word: typed[f"ingredient_{n}_{word}"] for word in self.QUANTITIES}
            read.append(
                {"name": typed[f"ingredient_{n}_name"]}
                | {word: told.to_the_last_digit for word, told in quantities.items() if told}
            )
        return read


class LineRows:
    """The table of rates by target and turf."""

    WORDS = ("target", "turf", "use", "rate_min", "rate_max")

    def __init__(self, form: forms.ModelForm) -> None:  # type: ignore[type-arg]
        self.form = form
        kept = form.instance.lines.all() if form.instance.pk else ()
        by_position = {line.position: line for line in kept}
        for n in range(1, MOST_LINES + 1):
            self._add(n, by_position.get(n, LabelLine(position=n)))

    def _add(self, n: int, line: LabelLine) -> None:
        fields = self.form.fields
        fields[f"line_{n}_target"] = forms.CharField(
            label=f"Line {n}: against what", max_length=120, required=False, initial=line.target
        )
        fields[f"line_{n}_turf"] = forms.ChoiceField(
            label=f"Line {n}: on which turf",
            choices=LabelLine.TURF,
            required=False,
            initial=line.turf,
        )
        fields[f"line_{n}_use"] = forms.ChoiceField(
            label=f"Line {n}: how", choices=LabelLine.USES, required=False, initial=line.use
        )
        for end, words in (("min", "lowest"), ("max", "highest")):
            fields[f"line_{n}_rate_{end}"] = PositiveQuantityField(
                units=LINE_RATES,
                label=f"Line {n}: {words}",
                required=False,
                initial=getattr(line, f"rate_{end}"),
            )

    def rows(self) -> list[Row]:
        """List the boxes of each row."""
        return [
            {word: self.form[f"line_{n}_{word}"] for word in self.WORDS}
            for n in range(1, MOST_LINES + 1)
        ]

    def is_used(self) -> bool:
        """Say whether a row is filled in, or wrong."""
        return any(row["target"].value() or _is_wrong(row) for row in self.rows())

    def clean(self, typed: Typed) -> None:
        """Say beside a row what it lacks or has the wrong way round."""
        for n in range(1, MOST_LINES + 1):
            low, high = (typed.get(f"line_{n}_rate_{end}") for end in ("min", "max"))
            if (low or high) and not typed.get(f"line_{n}_target"):
                self.form.add_error(f"line_{n}_target", "Enter what this line is against.")
            if problem := wrong_rates(low, high):
                self.form.add_error(f"line_{n}_rate_max", problem)

    def read(self, typed: Typed) -> list[LabelLine]:
        """List the lines that were filled in."""
        return [
            LabelLine(
                position=n,
                **{word: typed[f"line_{n}_{word}"] for word in self.WORDS if word != "use"},
                use=typed[f"line_{n}_use"] or "broadcast",
            )
            for n in range(1, MOST_LINES + 1)
            if typed[f"line_{n}_target"]
        ]


class MethodDistanceRows:
    """Distances that a label asks for with one way of applying."""

    def __init__(self, form: forms.ModelForm, kept: Sequence[LabelSetback]) -> None:  # type: ignore[type-arg]
        self.form = form
        kinds = [("", "none"), *LabelSetback.KINDS_TO_CHOOSE]
        methods = [("", "none"), *LabelSetback.METHODS]
        for n in range(1, MOST_METHOD_DISTANCES + 1):
            row = kept[n - 1] if n <= len(kept) else LabelSetback(kind="", method="")
            form.fields[f"method_{n}_kind"] = forms.ChoiceField(
                label=f"From ({n})", choices=kinds, required=False, initial=row.kind
            )
            form.fields[f"method_{n}_method"] = forms.ChoiceField(
                label=f"With ({n})", choices=methods, required=False, initial=row.method
            )
            form.fields[f"method_{n}_distance"] = QuantityField(
                units=LENGTHS,
                label=f"Distance ({n})",
                required=False,
                initial=row.distance if row.kind else None,
            )

    def rows(self) -> list[Row]:
        """List the boxes of each row."""
        return [
            {word: self.form[f"method_{n}_{word}"] for word in ("kind", "method", "distance")}
            for n in range(1, MOST_METHOD_DISTANCES + 1)
        ]

    def is_used(self) -> bool:
        """Say whether a row is filled in, or wrong."""
        return any(row["kind"].value() or _is_wrong(row) for row in self.rows())

    def clean(self, typed: Typed) -> None:
        """Say beside a row what it lacks."""
        seen: set[tuple[str, str]] = set()
        for n in range(1, MOST_METHOD_DISTANCES + 1):
            kind, method = typed.get(f"method_{n}_kind"), typed.get(f"method_{n}_method")
            distance: Quantity | None = typed.get(f"method_{n}_distance")
            if not kind and not method and distance is None:
                continue
            if not (kind and method and distance is not None):
                self.form.add_error(
                    f"method_{n}_kind", "Choose the feature and the way, and enter the distance."
                )
            elif (kind, method) in seen:
                self.form.add_error(f"method_{n}_kind", "This stands in a row above already.")
            seen.add((kind or "", method or ""))

    def read(self, typed: Typed) -> list[LabelSetback]:
        """List the rows that were filled in."""
        words = ("kind", "method", "distance")
        return [
            LabelSetback(**{word: typed[f"method_{n}_{word}"] for word in words})
            for n in range(1, MOST_METHOD_DISTANCES + 1)
            if typed[f"method_{n}_kind"]
        ]


class WordRows:
    """What the label says of each turfgrass and of each adjuvant."""

    def __init__(self, form: forms.ModelForm) -> None:  # type: ignore[type-arg]
        self.form = form
        for token, name in TURFGRASSES_TO_CHOOSE:
            form.fields[f"tolerance_{token}"] = forms.ChoiceField(
                label=name[:1].upper() + name[1:],
                choices=TOLERANCE,
                required=False,
                initial=form.instance.tolerance.get(token, ""),
            )
        for n, (token, name) in enumerate(ADJUVANTS_TO_CHOOSE, start=1):
            form.fields[f"adjuvant_{n}"] = forms.ChoiceField(
                label=name,
                choices=NEEDS,
                required=False,
                initial=form.instance.adjuvants.get(token, ""),
            )

    def turfgrasses(self) -> list[forms.BoundField]:
        """List the boxes of the turfgrasses."""
        return [self.form[f"tolerance_{token}"] for token, _ in TURFGRASSES_TO_CHOOSE]

    def adjuvants(self) -> list[forms.BoundField]:
        """List the boxes of the adjuvants."""
        return [self.form[f"adjuvant_{n}"] for n in range(1, len(ADJUVANTS_TO_CHOOSE) + 1)]

    def read(self, typed: Typed) -> tuple[dict[str, str], dict[str, str]]:
        """Read both, by their words in a plan request."""
        tolerance = {token: typed[f"tolerance_{token}"] for token, _ in TURFGRASSES_TO_CHOOSE}
        adjuvants = {
            token: typed[f"adjuvant_{n}"]
            for n, (token, _) in enumerate(ADJUVANTS_TO_CHOOSE, start=1)
        }
        return (
            {token: word for token, word in tolerance.items() if word},
            {token: word for token, word in adjuvants.items() if word},
        )


def stored(text: str | None) -> Quantity | None:
    """Read a quantity that was kept as text."""
    return parse_quantity(text) if text else None


def _is_wrong(row: Row) -> bool:
    return any(field.errors for field in row.values())
