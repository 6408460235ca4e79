"""What is already in a tank."""

from collections.abc import Mapping
from dataclasses import dataclass

from planner.core.tools import Tool
from properties.core.units import Quantity


@dataclass(frozen=True)
class TankNow:
    """Finished spray that is mixed already, for one tool, with how much of each product."""

    tool: Tool
    spray: Quantity
    products: Mapping[str, Quantity]
