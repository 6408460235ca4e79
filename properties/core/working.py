"""A number that can show its working: formula, inputs with units, result, source."""

from dataclasses import dataclass

from properties.core.units import Quantity

COMMON_PRACTICE = "Common practice."


@dataclass(frozen=True)
class Input:
    """One number that went into a figure, under the name the formula uses."""

    name: str
    quantity: Quantity


@dataclass(frozen=True)
class Figure:
    """A result and how to reconstruct it by hand.

    ``key`` is the member of the plan it belongs to (``treatable_area``,
    ``products[0].amount``); ``formula`` is written in the names of the inputs.
    """

    key: str
    name: str
    formula: str
    inputs: tuple[Input, ...]
    result: Quantity
    source: str = COMMON_PRACTICE
