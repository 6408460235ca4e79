"""Taking the loads of a day from the stock: what was mixed in one tank, for which properties."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from math import isclose
from typing import Any

from django.db import transaction

from planner.models import Machine, Mix, Product, StockEntry
from planner.services.stock import Act
from planner.services.taking import Source, TakenSoFar, take_loaded, untake
from properties.core.units import Quantity, quantity_of_si
from properties.models import Property


@dataclass(frozen=True)
class DayLoads:
    """What was mixed in one tank on a day, and for which properties."""

    machine: Machine
    mix: Mix
    tank: int
    places: tuple[Property, ...]
    amounts: tuple[tuple[Product, Quantity], ...]

    def source_on(self, day: date, *, number: int) -> Source:
        """Name these loads as what tells that something was taken."""
        name = f"{day.isoformat()}/{self.machine.pk}/{self.tank}/{self.mix.pk}/{number}"
        return Source("loads", name, self.places)


@transaction.atomic
def take_day_loads(loads: DayLoads, *, act: Act, further: bool = False) -> TakenSoFar:
    """Take the loads of a day from the stock. Told again they stand instead of the first.

    ``further`` loads of the same tank and mix on that day are taken beside them.
    """
    told = _told_last(loads, act)
    source = loads.source_on(act.on, number=told + 1 if further or not told else told)
    if _stands(source, loads):
        return TakenSoFar(list(_entries(source, loads)))
    untake(source, [product for product, _ in loads.amounts], act=act)
    return take_loaded(loads.amounts, source=source, act=act)


def _entries(source: Source, loads: DayLoads) -> Iterator[StockEntry]:
    for product, _ in loads.amounts:
        yield from source.entries_for(product).filter(undone_by=None)


def _told_last(loads: DayLoads, act: Act) -> int:
    """The number of the last loads that were told of the day; 0 where none were."""
    first = loads.source_on(act.on, number=0)
    begins = f"{first.kind}:{first.name.removesuffix('0')}"
    keys = StockEntry.objects.filter(firm=act.person.firm_id, key__startswith=begins).values_list(
        "key", flat=True
    )
    return max((int(str(key).removeprefix(begins).partition(":")[0]) for key in keys), default=0)


def _stands(source: Source, loads: DayLoads) -> bool:
    """Whether exactly this was taken already."""
    taken: dict[int, float] = {}
    for entry in _entries(source, loads):
        for line in entry.movements.all():
            taken[line.product_id] = taken.get(line.product_id, 0.0) - line.amount.si
    wanted = {product.pk: amount.si for product, amount in loads.amounts if product.pk in taken}
    return bool(taken) and all(
        isclose(taken[key], amount, rel_tol=1e-9) for key, amount in wanted.items()
    )


def loaded_in(plan: dict[str, Any]) -> list[tuple[str, Quantity]]:
    """Add up what the loads of a route, by machine and by hand, hold of each product, by its name.

    After a reading of the gauge the loads that were worked out anew stand for the rest.
    """
    route = plan["route"]
    loads, refill = route["loads"], route.get("refill")
    if refill:
        loads = [*loads[: refill["after_load"]], *refill["loads"]]
    loads = [*loads, *route.get("by_hand", {}).get("loads", [])]
    sums: dict[str, list[Quantity]] = {}
    for load in loads:
        for told in load["products"]:
            amount = told["amount_to_measure"] or told["amount"]
            sums.setdefault(told["name"], []).append(Quantity(amount["value"], amount["unit"]))
    return [
        (name, quantity_of_si(sum(each.si for each in parts), parts[0].unit))
        for name, parts in sums.items()
    ]
