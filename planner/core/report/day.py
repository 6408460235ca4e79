"""A route as JSON: its limits, lawns, reload points, loads, and a table of partial loads."""

from planner.core.day.filling import RouteLoad, TopUp
from planner.core.day.ground import RouteStop
from planner.core.day.limits import weight_unit
from planner.core.day.partial import Partial, partial_loads
from planner.core.day.whole import Day
from planner.core.report.day_after import ending_as_json, refill_as_json
from planner.core.report.quantities import Json, maybe, quantity, range_of, rate_of
from planner.core.report.tanks import output_as_json
from planner.core.shown import Shown
from properties.core.units import quantity_of_si


def day_as_json(day: Day, by_hand: Day | None = None) -> Json:
    """Write a route.

    Parameters
    ----------
    day : Day
        The route worked out. [L, L or kg, m²]
    by_hand : Day or None
        What its hand tool does, None where it has none. [L, L or kg, m²]

    Returns
    -------
    dict
        The member ``route``. [units shown]

    Raises
    ------
    Nothing
        Every route can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return {
        "tank": day.route.tank,
        **_limits(day),
        "stops": [_stop(stop, day) for stop in day.stops],
        "reload_points": _reload_points(day),
        **_loads(day),
        **refill_as_json(day, load_as_json),
        **ending_as_json(day),
        **({} if by_hand is None else {"by_hand": _by_hand(by_hand)}),
    }


def _by_hand(day: Day) -> Json:
    return {
        "output": output_as_json(day.output, day.shown),
        **_limits(day),
        "stops": [_stop(stop, day) for stop in day.stops],
        **_loads(day),
        **ending_as_json(day),
    }


def _limits(day: Day) -> Json:
    shown, limits = day.shown, day.limits
    return {
        "fill_limit": quantity(shown.spray_of(limits.holds_l)),
        **_weight(day),
        "unsprayable": quantity(shown.spray_of(limits.stays.si)),
        "one_load_sprays": quantity(shown.spray_of(limits.most_l)),
        "total_area": quantity(shown.area_of(day.area_m2)),
        "total_spray": quantity(shown.spray_of(day.spray_l)),
    }


def _loads(day: Day) -> Json:
    return {
        "loads": [load_as_json(load, day) for load in day.loads],
        "partial_loads": [_partial(partial, day.shown) for partial in partial_loads(day)],
    }


def _weight(day: Day) -> Json:
    if day.limits.weight_limit is None:
        return {}
    weight = quantity_of_si(day.limits.taken_kg_per_l, weight_unit(day.shown))
    return {"spray_weight": quantity(weight)}


def _stop(stop: RouteStop, day: Day) -> Json:
    loads = (each.need for each in day.loads_to_come if stop.area_m2)
    load = next((need.number for need in loads if stop.position < need.stops[1]), None)
    spray_l = stop.area_m2 * day.output.l_per_m2
    return {
        "number": stop.number,
        "name": stop.asked.name,
        "area": quantity(day.shown.area_of(stop.area_m2)),
        **_on_slopes(stop, day),
        "spray": quantity(day.shown.spray_of(spray_l)),
        "load": load,
        "products": _amounts(stop, day),
    }


def _amounts(stop: RouteStop, day: Day) -> list[Json]:
    amounts = (
        (each.product, quantity_of_si(amount, day.shown.amount_unit(each.product.rate)))
        for each, amount in day.amounts_on(stop)
    )
    return [{"name": product.name, "amount": quantity(amount)} for product, amount in amounts]


def _on_slopes(stop: RouteStop, day: Day) -> Json:
    """The ground itself, where its slopes take more or less spray than level ground."""
    part = stop.part
    if part is None or not part.slopes_differ:
        return {}
    return {"ground_area": quantity(day.shown.area_of(part.area_m2 / stop.asked.parts))}


def _reload_points(day: Day) -> list[Json]:
    used = {load.need.stops[0] for load in day.loads_to_come}
    return [
        {
            "name": point.name,
            "kind": point.kind.value,
            "after_stop": before,
            "permitted": not point.why_not,
            "reason": point.why_not or None,
            "used": before in used and day.reload_before.get(before) is point,
        }
        for before, point in day.route.reload_points
    ]


def load_as_json(load: RouteLoad, day: Day) -> Json:
    """Write one load of a route.

    Parameters
    ----------
    load : RouteLoad
        The load. [L, L or kg]
    day : Day
        The route that it is part of. [-]

    Returns
    -------
    dict
        An item of ``route.loads`` or ``route.refill.loads``. [units shown]

    Raises
    ------
    Nothing
        Every load can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    need, shown = load.need, day.shown
    volumes_l = {
        "spray_needed": need.spray_l,
        "carried": load.carried.volume_l,
        "tank": load.tank_l,
        "add": load.fill_l,
        "left": load.left.volume_l,
    }
    return {
        "number": need.number,
        "filled_at": None if need.filled_at is None else need.filled_at.name,
        "stops": [stop.number for stop in day.stops[slice(*need.stops)] if stop.area_m2],
        "area": quantity(shown.area_of(need.area_m2)),
        **{name: quantity(shown.spray_of(volume_l)) for name, volume_l in volumes_l.items()},
        "water": maybe(None if load.water_l is None else shown.spray_of(load.water_l)),
        "products": [_top_up(each, shown) for each in load.products],
    }


def _top_up(each: TopUp, shown: Shown) -> Json:
    product, measured = each.product, each.measured
    unit = shown.amount_unit(product.rate)
    return {
        "name": product.name,
        "carried": quantity(quantity_of_si(each.carried, unit)),
        "amount": quantity(quantity_of_si(each.amount, unit)),
        "amount_to_measure": None if measured is None else quantity(measured.shown_in(unit)),
        "measure": None if measured is None else quantity(measured.mark),
        "in_tank": quantity(quantity_of_si(each.in_tank, unit)),
        "rate_after_rounding": rate_of(product, each.rate, shown),
        "label_range": range_of(product, shown),
        "allowed": product.allows(each.rate),
    }


def _partial(partial: Partial, shown: Shown) -> Json:
    return {
        "volume": quantity(partial.volume),
        "area": quantity(shown.area_of(partial.area_m2)),
        "products": [
            {
                "name": product.name,
                "amount": quantity(quantity_of_si(amount, shown.amount_unit(product.rate))),
            }
            for product, amount in partial.amounts
        ],
    }
