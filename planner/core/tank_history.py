"""What each tank held before, and whether it may be used on turf again.

A product that kills turf leaves enough of itself in a tank to kill more. Nothing goes on
turf from that tank until it was rinsed as the label says and somebody stands for it.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date

from planner.core.findings import Finding, Findings
from planner.core.mix.products import Product
from planner.core.shown import listed
from planner.core.tools import Tool


@dataclass(frozen=True)
class Cleaned:
    """Who stands for it that a tank was rinsed as the label says, and when, if told."""

    confirmed_by: str
    on: date | None = None


@dataclass(frozen=True)
class TankBefore:
    """What was last in one tank of a tool, counted from 1, and whether that kills turf."""

    tool: Tool
    tank: int
    held: tuple[str, ...]
    kills_turf: bool
    cleaned: Cleaned | None = None

    @property
    def is_locked(self) -> bool:
        """Whether nothing may go on turf from it."""
        return self.kills_turf and self.cleaned is None


UsedTanks = Collection[tuple[Tool, int]]


def history_findings(
    tanks: Sequence[TankBefore], used: UsedTanks, products: Sequence[Product]
) -> Findings:
    """Refuse every tank that held what kills turf and was not rinsed.

    Parameters
    ----------
    tanks : Sequence[TankBefore]
        What the tanks held before. [-]
    used : Collection of tuple
        The tools and tanks that are to be filled. [-]
    products : Sequence[Product]
        What is to be filled into them. [-]

    Returns
    -------
    Findings
        A refusal for each such tank; a warning for each product that kills turf. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    Our own rule. A tank that is filled with what it held before need not be rinsed first.
    """
    names = {product.name for product in products}
    locked = [
        tank
        for tank in tanks
        if tank.is_locked and (tank.tool, tank.tank) in used and not set(tank.held) <= names
    ]
    killing = [product for product in products if product.label.told.kills_turf]
    return Findings(tuple(map(_kills, killing)), tuple(map(_locked, locked)))


def _kills(product: Product) -> Finding:
    message = (
        f"{product.name} kills turf: only for ground where nothing is to be left standing. Write "
        "it into the tank’s history; nothing else goes on turf from that tank until it is rinsed."
    )
    return Finding("kills_turf", message, product=product.name)


def _locked(tank: TankBefore) -> Finding:
    message = (
        f"Tank {tank.tank} of the {tank.tool.words} last held {listed(list(tank.held))}, which "
        "kills turf, and nobody has confirmed that it was rinsed. Rinse it as that label says, "
        "spray the rinse water where that label allows, and confirm it; or use another tank."
    )
    return Finding("tank_not_rinsed", message, tool=tank.tool)
