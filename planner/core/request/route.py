"""Reading a route: lawns and reload points in their order, and what the gauge showed."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from planner.core.label.labels import RATE_KINDS, SAME_NUMBER
from planner.core.machine.machines import HAND_KINDS, Machine
from planner.core.mix.products import Product
from planner.core.request.machine import read_machine
from planner.core.request.past import read_past
from planner.core.request.rates import RATES
from planner.core.request.reader import Believable, Faults, Members, open_object, quantity_at
from planner.core.request.rules import read_rules
from planner.core.request.tank import AMOUNTS, DIMENSIONS, check_holds
from planner.core.request.tanks import REMAINDERS, TANKS
from planner.core.request.weather import read_turfgrasses
from planner.core.route import Reading as GaugeReading
from planner.core.route import ReloadKind, ReloadPoint, Rinsing, Route, Stop
from properties.core.features import Role
from properties.core.outlines import Drawing, read_drawing
from properties.core.units import Dimension, Quantity

KNOWN = ("stops", "tank", "weight_limit", "next_lawns", "refill", "rinse", "hand_tool")
KNOWN_OF_LAWN = (
    *("name", "area", "hand_area", "property", "parts", "setback_rules"),
    *("room", "given", "takes_leftover", "gauge_after", "turfgrasses"),
    *("history", "history_since", "blackouts", "seedings"),
)
#: What can be told of a drawn lawn only.
OF_A_DRAWING = ("setback_rules", "history", "history_since", "blackouts", "seedings")
KNOWN_OF_RELOAD = ("reload", "name", "permission", "air_gap", "backflow_device")
KNOWN_OF_REFILL = ("after_load", "in_tank", "started_with", "put_in")
KNOWN_OF_RINSE = ("count", "volume")

MOST_STOPS = 200
MOST_RINSES = 10
MOST_PARTS = 50

AREAS = Believable(Quantity(0.1, "m2"), Quantity(1000, "ha"))
WEIGHTS = Believable(Quantity(1, "kg"), Quantity(100_000, "kg"))


@dataclass(frozen=True)
class _Told:
    """What the rest of the request tells that a lawn needs."""

    products: tuple[Product, ...]
    on: date | None
    day_told: bool


def read_route(
    whole: Members, *, machine: Machine | None, products: Sequence[Product], on: date | None
) -> Route | None:
    """Read a route, and check it against the machine and the mix.

    Parameters
    ----------
    whole : Members
        The members of the request. [-]
    machine : Machine or None
        The machine, if it could be read. [-]
    products : Sequence[Product]
        The mix as far as it could be read. [-]
    on : date or None
        The day of the work, if it was given and could be read. [-]

    Returns
    -------
    Route or None
        The route, or None where there is none or it has faults. [unit as written]

    Raises
    ------
    Nothing
        Faults are noted.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    members = whole.within("route", KNOWN)
    if members is None:
        return None
    members.want("stops", "List the lawns and the reload points in the order they are come to.")
    told = _Told(tuple(products), on, day_told=whole.has("on"))
    legs = tuple(_legs(members, told))
    reading = _refill(members, products)
    tank = _tank(members, machine)
    if machine is not None and machine.tanks:
        _check_reading(members, reading, machine.tanks[tank - 1])
    if machine is not None:
        _check_machine(whole, machine)
    hand_tool = _hand_tool(members)
    weight_limit = members.quantity("weight_limit", Dimension.MASS, believable=WEIGHTS)
    next_lawns = tuple(_next_lawns(members, told))
    route = Route(legs, tank, weight_limit, next_lawns, reading, _rinse(members), hand_tool)
    if legs and not route.stops:
        remedy = "Add a lawn with its area, or with its drawing as property."
        members.faults.add(members.path_of("stops"), "This route has no lawn.", remedy)
    if whole.values.get("rate_meets") == "plan":
        whole.faults.add(
            "rate_meets",
            "One tank of a route serves lawns of several slopes, so its rates meet the surface.",
            "Leave this out, or plan each property by itself.",
        )
    return route


def _check_reading(members: Members, reading: GaugeReading | None, tank: Quantity) -> None:
    told = {} if reading is None else vars(reading)
    for name in ("in_tank", "started_with"):
        volume = told.get(name)
        if volume is not None:
            where = f"{members.path_of('refill')}.{name}"
            check_holds(members.faults, where, volume, [tank])


def _check_machine(whole: Members, machine: Machine) -> None:
    if machine.spreading is not None:
        remedy = "Choose a sprayer, or plan each property by itself."
        whole.faults.add("machine.kind", "A spreader has no tank to drive a route with.", remedy)
    else:
        _check_unsprayable(whole.faults, "machine", machine)


def _check_unsprayable(faults: Faults, path: str, machine: Machine) -> None:
    if not machine.unsprayable:
        faults.add(
            f"{path}.unsprayable",
            "Nobody says what stays in the sump and the hose and cannot be sprayed.",
            "Fill in a known volume, spray until it sputters, and drain and measure the rest; "
            "write 0 gal if there is none.",
        )


def _hand_tool(members: Members) -> Machine | None:
    if not members.has("hand_tool"):
        return None
    path = members.path_of("hand_tool")
    tool = read_machine(members.faults, path, members.values["hand_tool"], kinds=HAND_KINDS)
    if tool is not None:
        _check_unsprayable(members.faults, path, tool)
    return tool


def _tank(members: Members, machine: Machine | None) -> int:
    most = 1 if machine is None else max(1, len(machine.tanks))
    return members.whole("tank", least=1, most=most) or 1


def _legs(members: Members, told: _Told) -> Iterator[Stop | ReloadPoint]:
    lawns = 0
    for path, item in members.items("stops", most=MOST_STOPS):
        if isinstance(item, dict) and "reload" in item:
            point = _reload(members.faults, path, item)
            if point is not None:
                yield point
            continue
        lawns += 1
        yield _lawn(members.faults, path, item, told=told, called=f"stop {lawns}")


def _next_lawns(members: Members, told: _Told) -> Iterator[Stop]:
    for number, (path, item) in enumerate(members.items("next_lawns", most=MOST_STOPS), start=1):
        called = f"next lawn {number}"
        yield _lawn(members.faults, path, item, told=told, called=called)


def _reload(faults: Faults, path: str, value: object) -> ReloadPoint | None:
    members = open_object(faults, path, value, KNOWN_OF_RELOAD)
    kind = None if members is None else members.choice("reload", tuple(ReloadKind))
    if members is None or kind is None:
        return None
    name = members.name("name") or kind.replace("_", " ")
    told = {
        fact: members.flag(fact) if members.has(fact) else None
        for fact in ("permission", "air_gap", "backflow_device")
    }
    return ReloadPoint(name, ReloadKind(kind), **told)


def _lawn(faults: Faults, path: str, value: object, *, told: _Told, called: str) -> Stop:
    members = open_object(faults, path, value, KNOWN_OF_LAWN)
    if members is None:
        return Stop(called)
    if members.has("area") == members.has("property"):
        remedy = "Give either its treatable area or its drawing as property."
        members.faults.add(path, "It is not clear how large this lawn is.", remedy)
    for name in OF_A_DRAWING:
        if members.has(name) and not members.has("property"):
            remedy = "Give the drawing as property, or tell the room that is left."
            members.faults.add(members.path_of(name), "This needs a drawn lawn.", remedy)
    area = members.quantity("area", Dimension.AREA, believable=AREAS)
    return Stop(
        members.name("name") or called,
        area,
        _drawing(members),
        _rates(members, "room", told.products),
        _rates(members, "given", told.products),
        members.flag("takes_leftover") if members.has("takes_leftover") else True,
        members.quantity("gauge_after", Dimension.VOLUME, believable=REMAINDERS),
        members.whole("parts", least=1, most=MOST_PARTS) or 1,
        read_rules(members, on=told.on),
        read_past(_with_day(members, told.day_told), told.products, on=told.on),
        read_turfgrasses(members),
        _hand_area(members, area),
    )


def _hand_area(members: Members, area: Quantity | None) -> Quantity | None:
    if not members.has("hand_area"):
        return None
    path = members.path_of("hand_area")
    by_hand = members.quantity("hand_area", Dimension.AREA, believable=AREAS)
    if members.has("property"):
        remedy = "Leave it out: the drawing is shared between the machine and the hand tool."
        members.faults.add(path, "This is for a lawn whose area is told.", remedy)
    elif by_hand is not None and area is not None and by_hand.si > area.si * (1 + SAME_NUMBER):
        problem = f"{by_hand} is more than the whole lawn, {area}."
        members.faults.add(path, problem, "Write how much of the area is done by hand.")
    return by_hand


def _with_day(members: Members, day_told: bool) -> Members:  # noqa: FBT001
    """The members of a lawn, with word of whether the request tells the day."""
    return replace(members, values={**members.values, "on": None}) if day_told else members


def _drawing(members: Members) -> Drawing | None:
    if not members.has("property"):
        return None
    path = members.path_of("property")
    drawing = members.faults.trying(lambda: read_drawing(members.values["property"]), below=path)
    if drawing is not None and not drawing.of_role(Role.TURF):
        members.faults.add(path, "No turf is drawn.", "Draw the turf that is to be sprayed.")
    return drawing


def _rates(members: Members, name: str, products: Sequence[Product]) -> dict[str, Quantity]:
    by_area = {product.name: product for product in products if product.by_area}
    inner = members.within(name, tuple(by_area))
    read: dict[str, Quantity] = {}
    for product in by_area.values() if inner is not None else ():
        rate = inner.quantity(product.name, *RATE_KINDS) if inner is not None else None
        if rate is not None and inner is not None:
            _check_rate(inner, product, rate)
            read[product.name] = rate
    return read


def _check_rate(inner: Members, product: Product, rate: Quantity) -> None:
    path = inner.path_of(product.name)
    if RATE_KINDS[rate.dimension] != product.kind:
        remedy = f"Write it like the rate, {product.rate}."
        inner.faults.add(path, f"{rate} is no {product.kind}.", remedy)
    elif rate.value:
        inner.faults.trying(lambda: RATES[rate.dimension].check(rate, field=path))


def _refill(members: Members, products: Sequence[Product]) -> GaugeReading | None:
    inner = members.within("refill", KNOWN_OF_REFILL)
    if inner is None:
        return None
    inner.want("in_tank", "Write what the gauge shows, for example 9.0 gal.")
    in_tank = inner.quantity("in_tank", Dimension.VOLUME, believable=REMAINDERS)
    started = inner.quantity("started_with", Dimension.VOLUME, believable=TANKS)
    after = inner.whole("after_load", least=1, most=MOST_STOPS) if inner.has("after_load") else 1
    put_in = _amounts(inner, products)
    if in_tank is None or after is None:
        return None
    return GaugeReading(after, in_tank, started, put_in)


def _amounts(members: Members, products: Sequence[Product]) -> dict[str, Quantity]:
    inner = members.within("put_in", [product.name for product in products])
    read = {}
    for product in products:
        if inner is not None and inner.has(product.name):
            form = product.kind.form
            read[product.name] = quantity_at(
                inner.faults,
                inner.path_of(product.name),
                inner.values[product.name],
                DIMENSIONS[form],
                believable=AMOUNTS[form],
            )
    return {name: amount for name, amount in read.items() if amount is not None}


def _rinse(members: Members) -> Rinsing:
    inner = members.within("rinse", KNOWN_OF_RINSE)
    if inner is None:
        return Rinsing()
    count = inner.whole("count", least=1, most=MOST_RINSES)
    return Rinsing(
        count or Rinsing.count, inner.quantity("volume", Dimension.VOLUME, believable=TANKS)
    )
