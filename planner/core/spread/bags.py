"""Whole bags for a weight, and the fillings of a hopper. Weights in kg."""

import math
from dataclasses import dataclass

from planner.core.label.labels import SAME_NUMBER
from properties.core.units import Quantity


@dataclass(frozen=True)
class Fillings:
    """How often a hopper is filled for one pass: full ones, and the last."""

    count: int
    full_kg: float
    last_kg: float


@dataclass(frozen=True)
class Bags:
    """Whole bags that leave the store, and what goes back to it."""

    bag: Quantity
    count: int
    left_over_kg: float


def bags_for(*, kg: float, bag: Quantity) -> Bags:
    """Whole bags for a weight, and what is left over.

    Parameters
    ----------
    kg : float
        What is needed, ≥ 0. [kg]
    bag : Quantity
        What a bag holds, > 0. [weight]

    Returns
    -------
    Bags
        As many as are enough, and never one more. [kg]

    Raises
    ------
    Nothing
        The bag was checked at the door.

    References
    ----------
    Common practice: rounded up, the rest goes back to store.
    """
    count = math.ceil(kg / bag.si * (1 - SAME_NUMBER))
    return Bags(bag, count, max(0.0, count * bag.si - kg))


def fillings_for(*, kg: float, hopper: Quantity) -> Fillings:
    """How often a hopper is filled for a weight: full, and once with the rest.

    Parameters
    ----------
    kg : float
        What a pass takes, ≥ 0. [kg]
    hopper : Quantity
        What the hopper holds, > 0. [weight]

    Returns
    -------
    Fillings
        The number of fillings and the last of them. [kg]

    Raises
    ------
    Nothing
        The hopper was checked at the door.

    References
    ----------
    Common practice.
    """
    count = math.ceil(kg / hopper.si * (1 - SAME_NUMBER))
    return Fillings(count, hopper.si, kg - max(0, count - 1) * hopper.si)
