"""The units in which a label gives its figures, and how two of its figures go together."""

from properties.core.units import Quantity, dimension_of

RATES = (
    "fl oz/1000 sq ft", "oz wt/1000 sq ft", "lb/1000 sq ft",
    "fl oz/acre", "pt/acre", "qt/acre", "oz wt/acre", "lb/acre",
    "%", "fl oz/gal", "fl oz/100 gal", "oz wt/gal", "lb/100 gal",
    "mL/100 m2", "L/ha", "g/100 m2", "g/m2", "kg/ha", "mL/L", "g/L",
)  # fmt: skip
PER_AREA = tuple(unit for unit in RATES if unit.endswith(("sq ft", "acre", "m2", "ha")))
CARRIER = ("gal/1000 sq ft", "gal/acre", "L/100 m2", "L/ha")
STRENGTHS = ("%", "fl oz/gal", "oz wt/gal", "lb/100 gal", "mL/L", "g/L")
DENSITIES = ("lb/gal", "kg/L", "g/L")
WAITS = ("h", "day", "min")
DAYS = ("day",)
DEPTHS = ("in", "mm", "cm")
CONTENTS = ("lb/gal", "%", "g/L")
INGREDIENT_LIMITS = ("lb/acre", "oz wt/1000 sq ft", "lb/1000 sq ft", "kg/ha", "g/100 m2")
#: In the table of rates also what each plant gets.
LINE_RATES = (*RATES, "fl oz", "oz wt", "mL", "g")
#: The two ends of one line of a label are never so many times apart.
WIDEST_RANGE = 25
NOT_TO_BE_BELIEVED = 10_000


def wrong_pair(low: Quantity | None, high: Quantity | None) -> str:
    """Say what is wrong with the two ends of a range, or nothing."""
    if low is None or high is None:
        return ""
    if dimension_of(low.unit) is not dimension_of(high.unit):
        return f"The lowest is a {low.dimension}, this is a {high.dimension}. Use one kind."
    if low.si > high.si:
        return f"The highest lies below the lowest ({low}). Look at the label again."
    return ""


def wrong_rates(low: Quantity | None, high: Quantity | None) -> str:
    """Say what is wrong with the two ends of a range of rates, or nothing."""
    problem = wrong_pair(low, high)
    if problem or low is None or high is None:
        return problem
    # What cannot be right at all, such as next to nothing, is said by whoever keeps it.
    if not WIDEST_RANGE * low.si < high.si < NOT_TO_BE_BELIEVED * low.si:
        return ""
    times = high.si / low.si
    return (
        f"That is {times:,.0f} times the lowest ({low}). Is one of the two for an "
        "acre, and the other for 1,000 sq ft?"
    )
