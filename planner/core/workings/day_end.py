"""How the figures at the end of a route came about: the leftover, and the rinses."""

from collections.abc import Iterator

from planner.core.day.filling import Leftover
from planner.core.day.leftover import Addition, Candidate, Ending, Share
from planner.core.day.rinsing import Rinse
from planner.core.day.whole import Day
from planner.core.shown import Shown
from planner.core.workings.day_terms import amount_of, told, worked
from planner.core.workings.terms import below
from properties.core.units import Quantity
from properties.core.working import Figure

LEFT_SOURCE = "Our own derivation: what is left is as strong as all the tank was."
SHARED_SOURCE = (
    "Our own rule: each lawn in its order takes what its room allows, until nothing is left."
)
ON_TOP_SOURCE = "Our own derivation: all that is left, spread evenly on the lawn."
HIGHEST_SOURCE = (
    "The label’s highest rate, or what this ground may still get where that is less. Never more, "
    "to be rid of something."
)
RINSE_SOURCE = (
    "Our own derivation: each rinse thins what stays by stays / (stays + water), so that several "
    "small ones leave less than one big one. A tenth of the tank, three times: rule of thumb of "
    "Purdue University Extension, as told in the farm press."
)


def end_figures(day: Day) -> Iterator[Figure]:
    """Derive what is left at the end, what it would give each lawn, and the rinses.

    Parameters
    ----------
    day : Day
        The route worked out. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations; none where the end is not known. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    if day.ending is None or day.rinse is None:
        return
    yield from below("leftover", _left(day, day.ending.left))
    for number, share in enumerate(day.ending.shares):
        yield from below(f"leftover.shares[{number}]", _share(share, day.ending, day.shown))
    for number, each in enumerate(day.ending.candidates):
        for position, addition in enumerate(each.products):
            key = f"leftover.lawns[{number}].products[{position}]"
            yield from below(key, _addition(addition, each, day.ending.left, day.shown))
    yield from below("rinse", _rinse(day.rinse, day))


def _left(day: Day, left: Leftover) -> Iterator[Figure]:
    shown, last, read = day.shown, day.loads_to_come[-1], day.read_at_the_end
    spray = shown.spray_of(left.volume_l)
    held_l = last.tank_l if read is None else read.start.volume_l
    held = [each.in_tank for each in last.products] if read is None else read.start.amounts
    tank = ("tank", shown.spray_of(held_l))
    name = "Spray left at the end of the route"
    if read is None:
        needed = ("needed", shown.spray_of(last.need.spray_l))
        yield worked("spray", name, "tank − needed", (tank, needed), spray, LEFT_SOURCE)
    else:
        yield told("spray", f"{name}, as the gauge shows", spray)
    for position, product in enumerate(day.products):
        yield worked(
            f"products[{position}].amount",
            f"{product.name} in what is left",
            "product × left / tank",
            (("product", amount_of(product, held[position], shown)), ("left", spray), tank),
            amount_of(product, left.amounts[position], shown),
            LEFT_SOURCE,
        )


def _share(share: Share, ending: Ending, shown: Shown) -> Iterator[Figure]:
    where = share.lawn.stop.asked.name
    room, before = (Quantity(100 * part, "%") for part in (share.room, share.before))
    percent = Quantity(100 * share.part, "%")
    yield worked(
        "share_percent",
        f"{where}: the part of what is left that it takes",
        "min(could take, 100 − before)",
        (("could take", room), ("before", before)),
        percent,
        SHARED_SOURCE,
    )
    left = ("left", shown.spray_of(ending.left.volume_l))
    yield worked(
        "spray",
        f"{where}: spray that it takes",
        "left × part / 100",
        (left, ("part", percent)),
        shown.spray_of(ending.left.volume_l * share.part),
        SHARED_SOURCE,
    )
    for number, each in enumerate(share.lawn.products):
        product = each.product
        had, all_, adds = (
            shown.rate_of(product.rate, rate)
            for rate in (each.had, each.adds, each.adds * share.part)
        )
        yield worked(
            f"products[{number}].adds",
            f"{where}: {product.name} that comes on top",
            "if all × part / 100",
            (("if all", all_), ("part", percent)),
            adds,
            SHARED_SOURCE,
        )
        yield worked(
            f"products[{number}].total",
            f"{where}: {product.name} in all",
            "had + adds",
            (("had", had), ("adds", adds)),
            shown.rate_of(product.rate, each.had + each.adds * share.part),
            SHARED_SOURCE,
        )


def _addition(each: Addition, lawn: Candidate, rest: Leftover, shown: Shown) -> Iterator[Figure]:
    product, where = each.product, lawn.stop.asked.name
    left = amount_of(product, rest.amounts[each.position], shown)
    had, adds = (shown.rate_of(product.rate, rate) for rate in (each.had, each.adds))
    yield told("had", f"{where}: {product.name} that it has had", had)
    yield worked(
        "adds",
        f"{where}: {product.name} that comes on top",
        f"{shown.per_area} × left / area",
        (("left", left), ("area", shown.area_of(lawn.stop.area_m2))),
        adds,
        ON_TOP_SOURCE,
    )
    yield worked(
        "total",
        f"{where}: {product.name} in all",
        "had + adds",
        (("had", had), ("adds", adds)),
        shown.rate_of(product.rate, each.total),
        ON_TOP_SOURCE,
    )
    if each.highest is not None:
        yield _highest(each, lawn, shown)


def _highest(each: Addition, lawn: Candidate, shown: Shown) -> Figure:
    product = each.product
    label, cap = product.label.rate.highest, lawn.stop.caps.get(product.name)
    told = (("label", None if label is None else label.si), ("room", cap))
    terms = [(name, shown.rate_of(product.rate, rate)) for name, rate in told if rate is not None]
    return worked(
        "highest",
        f"{lawn.stop.asked.name}: the most of {product.name} that it may get",
        "min(label, room)" if len(terms) > 1 else "label",
        terms,
        shown.rate_of(product.rate, 0.0 if each.highest is None else each.highest),
        HIGHEST_SOURCE,
    )


def _rinse(rinse: Rinse, day: Day) -> Iterator[Figure]:
    shown = day.shown
    each_l, all_l = shown.spray_of(rinse.volume_l), shown.spray_of(rinse.water_l)
    stays = ("stays", shown.spray_of(rinse.left.volume_l))
    yield told("volume", "Clean water of one rinse", each_l)
    count = ("rinses", Quantity(rinse.count, ""))
    yield worked(
        "water", "Clean water for all rinses", "rinses × each", (count, ("each", each_l)), all_l
    )
    power = " × ".join(["stays / (stays + each)"] * rinse.count)
    yield worked(
        "stays_percent",
        f"Product still in the tank after {rinse.count} rinses",
        f"100 × {power}",
        (stays, ("each", each_l)),
        Quantity(100 * rinse.stays, "%"),
        RINSE_SOURCE,
    )
    yield worked(
        "stays_if_at_once_percent",
        "Product still in the tank after all that water at once",
        "100 × stays / (stays + all)",
        (stays, ("all", all_l)),
        Quantity(100 * rinse.stays_if_at_once, "%"),
        RINSE_SOURCE,
    )
    for position, product in enumerate(day.products):
        left = amount_of(product, rinse.left.amounts[position], shown)
        yield worked(
            f"products[{position}].in_rinse_water",
            f"{product.name} that goes out with the rinse water",
            "left × (1 − percent / 100)",
            (("left", left), ("percent", Quantity(100 * rinse.stays, "%"))),
            amount_of(product, rinse.rinsed_out[position], shown),
            RINSE_SOURCE,
        )
