"""What can be said against an input: one refusal, or every fault found at once."""

import math
from collections.abc import Iterable


class Refused(ValueError):
    """Something that was typed, drawn or asked for cannot be used as it is.

    ``field`` names the argument or the path of the input at fault, ``problem``
    is a sentence on what is wrong and ``remedy`` a sentence on what to do.
    """

    def __init__(self, field: str, problem: str, remedy: str = "") -> None:
        super().__init__(field, problem, remedy)
        self.field = field
        self.problem = problem
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{self.problem} {self.remedy}".strip()

    def at(self, field: str) -> "Refused":
        """Say the same of another field, so that an outer caller can add the path."""
        return Refused(field, self.problem, self.remedy)


class FaultsFound(ValueError):
    """Every fault of an input, none hidden behind the first."""

    def __init__(self, faults: Iterable[Refused]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(f"{fault.field}: {fault}" for fault in self.faults))


def require_positive(**named: float) -> None:
    """Refuse the first argument that is not a finite number above zero.

    Parameters
    ----------
    named : float
        The arguments by name. [any unit]

    Returns
    -------
    None
        Nothing. [-]

    Raises
    ------
    Refused
        If an argument is zero, negative, infinite or not a number.

    References
    ----------
    Our own derivation: no formula of this project holds for such a value.
    """
    for name, value in named.items():
        if not (math.isfinite(value) and value > 0):
            raise Refused(
                field=name,
                problem=f"{value:g} is not a number above zero.",
                remedy="Measure again and enter what you read.",
            )
