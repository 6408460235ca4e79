"""Between which ends a rate can be believed, and which kinds of rate a request may have."""

from planner.core.request.reader import Believable
from properties.core.units import Dimension, Quantity

#: No label gives so much or so little; a slip of the unit does.
RATES = {
    Dimension.VOLUME_PER_AREA: Believable(Quantity(1e-6, "mL/m2"), Quantity(100, "L/m2")),
    Dimension.MASS_PER_AREA: Believable(Quantity(1e-6, "g/m2"), Quantity(100, "kg/m2")),
    Dimension.VOLUME_PER_VOLUME: Believable(Quantity(1e-6, "mL/L"), Quantity(1, "L/L")),
    Dimension.SHARE: Believable(Quantity(1e-7, "%"), Quantity(100, "%")),
    Dimension.MASS_PER_VOLUME: Believable(Quantity(1e-6, "g/L"), Quantity(10, "kg/L")),
}
#: What one plant gets.
AMOUNTS_EACH = {
    Dimension.VOLUME: Believable(Quantity(0.001, "mL"), Quantity(50, "L")),
    Dimension.MASS: Believable(Quantity(0.001, "g"), Quantity(50, "kg")),
}
