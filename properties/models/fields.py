"""Two kinds of column: a geometry in degrees as drawn, a quantity as typed."""

from typing import Any

import shapely
from django.core.exceptions import ValidationError
from django.db import models
from shapely.geometry.base import BaseGeometry

from properties.core.errors import Refused
from properties.core.units import Quantity, parse_quantity


class GeometryField(models.BinaryField):  # type: ignore[type-arg]
    """A shapely geometry in degrees of longitude and latitude, kept as WKB."""

    def from_db_value(self, value: Any, *_: Any) -> BaseGeometry | None:
        """Turn the bytes of a row into a geometry."""
        return None if value is None else shapely.from_wkb(bytes(value))

    def get_prep_value(self, value: Any) -> Any:
        """Turn a geometry into the bytes of a row."""
        return shapely.to_wkb(value) if isinstance(value, BaseGeometry) else value

    def to_python(self, value: Any) -> Any:
        """Leave a geometry as it is."""
        return value if isinstance(value, BaseGeometry) else super().to_python(value)


class QuantityField(models.CharField):  # type: ignore[type-arg]
    """A number and a unit of the closed list, kept the way they were typed."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("max_length", 60)
        super().__init__(*args, **kwargs)

    def from_db_value(self, value: str | None, *_: Any) -> Quantity | None:
        """Turn the text of a row into a quantity."""
        return parse_quantity(value) if value else None

    def to_python(self, value: Any) -> Quantity | None:
        """Turn typed text into a quantity, or say why it is none."""
        if value is None or isinstance(value, Quantity):
            return value
        if not value:
            return None
        try:
            return parse_quantity(value)
        except Refused as refused:
            raise ValidationError(str(refused), code="quantity") from refused

    def get_prep_value(self, value: Any) -> str | None:
        """Turn a quantity into the text of a row."""
        quantity = self.to_python(value)
        if quantity is None:
            return None if self.null else ""
        return quantity.to_the_last_digit

    def value_to_string(self, obj: models.Model) -> str:
        """Say the quantity of a row as text, for exports."""
        return self.get_prep_value(self.value_from_object(obj)) or ""

    def run_validators(self, value: Any) -> None:
        """Check the length of the text; the meaning was checked by reading it."""
        super().run_validators(None if value is None else self.get_prep_value(value))
