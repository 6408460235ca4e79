"""A number and a unit of the closed list, typed into a form."""

import re
from collections.abc import Sequence
from typing import Any, Literal

from django import forms
from django.core.exceptions import ValidationError

from properties.core.errors import Refused
from properties.core.showing import shown_unit
from properties.core.units import Quantity, parse_quantity

LENGTHS = ("ft", "in", "yd", "m")
SPEEDS = ("mph", "km/h", "m/s")
VOLUMES = ("gal", "qt", "pt", "fl oz", "L", "mL")
TEMPERATURES = ("deg F", "deg C")


#: A number with a word after it, in a box that is for the number alone.
_NUMBER_WITH_WORD = re.compile(r"[-+]?[\d.,\s]*\d[\d.,\s]*[^\W\d_]")


def typed_quantity(number: str, unit: str, *, field: str = "quantity") -> Quantity:
    """Read a number from its box and the unit from the list that goes with it."""
    try:
        return parse_quantity(f"{number} {unit}", field=field)
    except Refused:
        if not _NUMBER_WITH_WORD.match(number.strip()):
            raise
        raise Refused(
            field,
            f"“{number.strip()}” is more than a number.",
            "Write the number alone; the unit is chosen in a list of its own.",
        ) from None


class QuantityInput(forms.MultiWidget):
    """A box for the number and a list for the unit."""

    template_name = "properties/parts/quantity_input.html"

    def __init__(
        self, units: Sequence[str], *, of: str, attrs: dict[str, Any] | None = None
    ) -> None:
        number = forms.TextInput({"inputmode": "decimal", "autocomplete": "off", "size": 8})
        unit = forms.Select(
            {"aria-label": f"Unit of {of}"}, [(unit, shown_unit(unit)) for unit in units]
        )
        super().__init__([number, unit], attrs)

    def decompress(self, value: Quantity | Literal[""] | None) -> list[str | None]:
        """Take a stored quantity apart for the two boxes."""
        return [None, None] if not value else [f"{value.value:.10g}", value.unit]

    def id_for_label(self, id_: str) -> str:
        """Let the label point at the number."""
        return f"{id_}_0"


class QuantityField(forms.MultiValueField):
    """Gives a Quantity, or says beside the field what is wrong with it."""

    #: Whether there can be less of it than nothing.
    may_be_negative = False

    def __init__(self, *, units: Sequence[str], **kwargs: Any) -> None:
        self.units = units
        fields = (forms.CharField(), forms.ChoiceField(choices=[(unit, unit) for unit in units]))
        kwargs.setdefault("initial", [None, units[0]])
        super().__init__(
            fields,
            widget=QuantityInput(units, of=str(kwargs.get("label", "this"))),
            require_all_fields=False,
            **kwargs,
        )

    def compress(self, typed: list[str]) -> Quantity | None:
        """Read the number with its unit."""
        if not typed or not typed[0]:
            if self.required:
                raise ValidationError("Enter a number.", code="required")
            return None
        try:
            quantity = typed_quantity(typed[0], typed[1])
        except Refused as refused:
            raise ValidationError(str(refused), code="quantity") from refused
        if quantity.value < 0 and not self.may_be_negative:
            raise ValidationError(f"{quantity} is less than nothing. Enter what you measured.")
        return quantity

    def clean(self, value: Any) -> Quantity | None:
        """Read both boxes; an empty number means nothing was typed."""
        if isinstance(value, list | tuple) and value and not (value[0] or "").strip():
            return self.compress([])
        cleaned: Quantity | None = super().clean(value)
        return cleaned


class TemperatureField(QuantityField):
    """A temperature, which may lie below the zero of its scale."""

    may_be_negative = True

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(units=TEMPERATURES, **kwargs)


class PositiveQuantityField(QuantityField):
    """A quantity that must be above zero."""

    def compress(self, typed: list[str]) -> Quantity | None:
        """Read the number and refuse nothing at all."""
        quantity = super().compress(typed)
        if quantity is not None and quantity.value <= 0:
            raise ValidationError(f"{quantity} is not above zero. Measure again, or leave it out.")
        return quantity
