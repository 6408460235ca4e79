"""What follows from a route as JSON: the refill, the gauge, the leftover, the rinses."""

from collections.abc import Callable

from planner.core.day.filling import RouteLoad
from planner.core.day.gauge import Diagnosis
from planner.core.day.leftover import Addition, Candidate, Ending, Share
from planner.core.day.refill import Done, Naive, Refill
from planner.core.day.rinsing import Rinse
from planner.core.day.whole import Day
from planner.core.mix.products import Product
from planner.core.report.quantities import Json, quantity, range_of, rate_of
from planner.core.shown import Shown
from properties.core.units import quantity_of_si

WriteLoad = Callable[[RouteLoad, Day], Json]


def refill_as_json(day: Day, write: WriteLoad) -> Json:
    """Write what the gauge showed, and what follows from it.

    Parameters
    ----------
    day : Day
        The route worked out. [L, L or kg]
    write : callable
        Writes a load. [-]

    Returns
    -------
    dict
        The members ``refill`` and ``gauge``, null where nothing was read. [units shown]

    Raises
    ------
    Nothing
        Every route can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    return {
        "refill": None if day.refill is None else _refill(day.refill, day, write),
        "gauge": None if day.diagnosis is None else _gauge(day.diagnosis, day.shown),
    }


def _refill(refill: Refill, day: Day, write: WriteLoad) -> Json:
    done, shown = refill.done, day.shown
    return {
        "after_load": done.load.need.number,
        "started_with": quantity(shown.spray_of(done.start.volume_l)),
        "in_tank": quantity(shown.spray_of(done.in_tank_l)),
        "used": quantity(shown.spray_of(done.used_l)),
        "area": quantity(shown.area_of(done.area_m2)),
        "measured_output": quantity(shown.output_of(done.output_l_per_m2)),
        "drift_percent": 100 * done.drift,
        "within_tolerance": not done.has_drifted,
        "products": [
            _delivered(each.product, position, done, shown)
            for position, each in enumerate(done.load.products)
        ],
        "loads": [write(load, day) for load in refill.loads],
        "naive": None if refill.naive is None else _naive(refill.naive, done, shown),
    }


def _delivered(product: Product, position: int, done: Done, shown: Shown) -> Json:
    unit = shown.amount_unit(product.rate)
    rate = done.delivered(product, position)
    return {
        "name": product.name,
        "put_in": quantity(quantity_of_si(done.start.amounts[position], unit)),
        "in_tank": quantity(quantity_of_si(done.left.amounts[position], unit)),
        "rate": rate_of(product, rate, shown),
        "label_range": range_of(product, shown),
        "allowed": product.allows(rate),
    }


def _naive(naive: Naive, done: Done, shown: Shown) -> Json:
    products = [each.product for each in done.load.products]
    return {
        "tank": quantity(shown.spray_of(naive.tank_l)),
        "left": quantity(shown.spray_of(naive.left_l)),
        "products": [
            {
                "name": product.name,
                "rate": rate_of(product, rate, shown),
                "allowed": product.allows(rate),
            }
            for product, rate in zip(products, naive.rates, strict=True)
        ],
    }


def _gauge(diagnosis: Diagnosis, shown: Shown) -> Json:
    return {
        "points_to": diagnosis.cause.value,
        "stop": None if diagnosis.stop is None else diagnosis.stop + 1,
        "stops": [
            {
                "number": use.stop + 1,
                "used": quantity(shown.spray_of(use.used_l)),
                "planned": quantity(shown.spray_of(use.planned_l)),
                "deviation_percent": 100 * use.deviation,
            }
            for use in diagnosis.uses
        ],
    }


def ending_as_json(day: Day) -> Json:
    """Write what is left at the end, where it goes, and how the tank is rinsed.

    Parameters
    ----------
    day : Day
        The route worked out. [L, L or kg]

    Returns
    -------
    dict
        The members ``leftover`` and ``rinse``, null where the end is not known. [units shown]

    Raises
    ------
    Nothing
        Every route can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    if day.ending is None or day.rinse is None:
        return {"leftover": None, "rinse": None}
    return {
        "leftover": _ending(day.ending, day),
        "rinse": _rinse(day.rinse, day),
    }


def _ending(ending: Ending, day: Day) -> Json:
    shown, place = day.shown, ending.place
    return {
        "spray": quantity(shown.spray_of(ending.left.volume_l)),
        "products": [
            {
                "name": product.name,
                "amount": quantity(quantity_of_si(amount, shown.amount_unit(product.rate))),
            }
            for product, amount in zip(day.products, ending.left.amounts, strict=True)
        ],
        "place": None if place is None else place.stop.asked.name,
        "shares": [_share(each, ending, shown) for each in ending.shares],
        "lawns": [_candidate(each, shown) for each in ending.candidates],
    }


def _share(share: Share, ending: Ending, shown: Shown) -> Json:
    lawn = share.lawn
    return {
        "number": lawn.stop.number if lawn.is_today else None,
        "name": lawn.stop.asked.name,
        "share_percent": 100 * share.part,
        "spray": quantity(shown.spray_of(ending.left.volume_l * share.part)),
        "products": [
            {
                "name": each.product.name,
                "adds": rate_of(each.product, each.adds * share.part, shown),
                "total": rate_of(each.product, each.had + each.adds * share.part, shown),
            }
            for each in lawn.products
        ],
    }


def _candidate(each: Candidate, shown: Shown) -> Json:
    return {
        "number": each.stop.number if each.is_today else None,
        "name": each.stop.asked.name,
        "today": each.is_today,
        "allowed": each.allowed,
        "products": [_addition(addition, shown) for addition in each.products],
    }


def _addition(each: Addition, shown: Shown) -> Json:
    product = each.product
    highest = None if each.highest is None else rate_of(product, each.highest, shown)
    return {
        "name": product.name,
        "had": rate_of(product, each.had, shown),
        "adds": rate_of(product, each.adds, shown),
        "total": rate_of(product, each.total, shown),
        "highest": highest,
        "allowed": each.allowed,
    }


def _rinse(rinse: Rinse, day: Day) -> Json:
    shown = day.shown
    return {
        "count": rinse.count,
        "volume": quantity(shown.spray_of(rinse.volume_l)),
        "water": quantity(shown.spray_of(rinse.water_l)),
        "stays_percent": 100 * rinse.stays,
        "stays_if_at_once_percent": 100 * rinse.stays_if_at_once,
        "products": [
            {
                "name": product.name,
                "in_rinse_water": quantity(quantity_of_si(amount, shown.amount_unit(product.rate))),
            }
            for product, amount in zip(day.products, rinse.rinsed_out, strict=True)
        ],
    }
