"""Amounts, shares and minutes that are typed as plain decimals."""

import re
from decimal import Decimal
from typing import Any

from django import forms

_GROUPED = re.compile(r"\d{1,3}(,\d{3})+(\.\d+)?")
_SIGNS = "$€£ "


class PlainDecimalField(forms.DecimalField):
    """A decimal, with commas between thousands or without, and no float on the way."""

    def __init__(self, *, places: int = 2, **kwargs: Any) -> None:
        kwargs.setdefault("widget", forms.TextInput({"inputmode": "decimal", "size": 8}))
        super().__init__(max_digits=12, decimal_places=places, min_value=Decimal(0), **kwargs)
        self.error_messages["invalid"] = "Enter a number such as 12.50."
        self.error_messages["required"] = "Enter a number."
        self.widget.attrs["autocomplete"] = "off"

    def to_python(self, value: Any) -> Any:
        """Read what was typed; a comma that stands for the point is refused, not guessed at."""
        text = str(value or "").strip().strip(_SIGNS)
        if _GROUPED.fullmatch(text):
            text = text.replace(",", "")
        return super().to_python(text)
