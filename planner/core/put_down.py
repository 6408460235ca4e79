"""What a plan puts on which ground, read from the plan's JSON."""

from collections.abc import Iterator
from dataclasses import dataclass

from shapely.geometry import shape as geometry_of
from shapely.geometry.base import BaseGeometry

from planner.core.report.quantities import Json
from properties.core.units import Quantity, quantity_of_si


@dataclass(frozen=True)
class PutDown:
    """One product on the ground of one tool, at its rate per area. Degrees.

    ``measured`` is what is measured out for it. ``tool`` is empty where there is one tool.
    """

    product: str
    rate: Quantity
    measured: Quantity
    shape: Json
    tool: str = ""

    @property
    def ground(self) -> BaseGeometry:
        """Where it goes."""
        return geometry_of(self.shape)


def put_down(plan: Json) -> Iterator[PutDown]:
    """List what a plan puts down, tool by tool and product by product.

    Parameters
    ----------
    plan : dict
        The plan of a property as JSON. [units of the plan]

    Returns
    -------
    Iterator[PutDown]
        Each product where there is ground for it. [unit of the plan]

    Raises
    ------
    Nothing
        Every plan of a property has these members.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    whole = plan | {"shape": plan["treatable"], "area": plan["treatable_area"]}
    for part in plan.get("parts") or [whole]:
        if not part["shape"]["coordinates"]:
            continue
        for told in part["products"]:
            rate = _rate_on_ground(told, _sprayed(plan, part))
            measured = _measured(told)
            yield PutDown(told["name"], rate, measured, part["shape"], part.get("tool", ""))


def _sprayed(plan: Json, part: Json) -> Json:
    """The ground that gets it: the spots, where only these are treated."""
    area: Json = plan["level_area"] if "spots" in plan else part["area"]
    return area


def _rate_on_ground(told: Json, area: Json) -> Quantity:
    """The rate per area: as rounded, or what was measured out over the area."""
    rate = told["rate_after_rounding"] or told["rate_used"]
    if "/" in rate["unit"] and not rate["unit"].endswith(("gal", "L")):
        return Quantity(rate["value"], rate["unit"])
    amount = _measured(told)
    per_m2 = amount.si / Quantity(area["value"], area["unit"]).si
    metric = area["unit"] == "m2"
    return quantity_of_si(per_m2, f"{amount.unit}/{'100 m2' if metric else '1000 sq ft'}")


def _measured(told: Json) -> Quantity:
    amount = told["amount_to_measure"] or told["amount"]
    return Quantity(amount["value"], amount["unit"])
