"""How far the corners of drawn shapes may be out, as far as anybody says."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from properties.core.outlines import Drawing, Shape
from properties.core.units import Quantity


@dataclass(frozen=True)
class Placing:
    """Errors by the way of measuring, and that of a corner measured again, where known.

    Each is the standard deviation of a corner along either axis.
    """

    errors: Mapping[str, Quantity] = field(default_factory=dict)
    better: Quantity | None = None

    def error_of(self, shape: Shape) -> Quantity | None:
        """The error of a shape: its own, or that of how it was measured; None if unknown."""
        if shape.position_error is not None or shape.measured_by is None:
            return shape.position_error
        return self.errors.get(shape.measured_by)

    def sigmas_m(self, drawing: Drawing) -> dict[str, float]:
        """The error of each shape of a drawing whose error is known, by its ref."""
        errors = {shape.ref: self.error_of(shape) for shape in drawing.shapes}
        return {ref: error.si for ref, error in errors.items() if error is not None}


UNPLACED = Placing()
