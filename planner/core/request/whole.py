"""Reading a whole plan request. The format is described in docs/plan-request.md.

Beside what a plan must be given (``property``, ``machine``, ``mix``) a request may have

``units``
    ``us`` or ``metric``: what the plan is shown in.
``weather``
    ``wind_speed`` and ``wind_from`` (a bearing or a point of the compass);
    ``temperature``, ``temperature_high`` and ``rain_in``.
``turfgrasses``
    What grows there.
``mixing_order``, ``do_not_mix``, ``jar_tests``, ``water_test``
    What is known of mixing.
``setback_defaults``, ``setback_defaults_source``
    Distances by kind of feature where neither the feature nor a label gives
    one, and where those distances come from. A request that has them, even an
    empty object, is planned with these alone.
``measures``
    The marks of what is on the truck, ``liquid`` and ``dry``.
``setback_rules``, ``on``
    Distances by kind of feature and method, each with its source and perhaps its
    days; and the day of the work.
``hand_tool``
    A tool that is carried by hand, for the ground the machine cannot or may not spray.
``rate_meets``
    ``surface`` or ``plan``: the area on the ground or on the map.
``tank_now``
    What is mixed already: the tool, the spray and each product in it.
``wind_rule``
    How the side the wind comes from is judged, and in which wind to hold.
``passes``
    Whether the passes of the machine are wanted.
``nutrient_limits``, ``nutrients_so_far``, ``nutrients_lately``, ``soil_test``
    What limits nutrients at the place, and what it has had of them this year and lately.
``first_pass_used``
    What a spreader used in the first of its two passes.
``position_errors``, ``better_error``
    How far corners are out by the way they were measured, and when measured again.
``route``
    Lawns and reload points in their order, beside the property or in its stead.
``tanks_before``
    What each tank held last, and who confirmed that it was rinsed.
``history``, ``history_since``, ``blackouts``, ``seedings``
    What the place has had before, days on which it gets nothing, and where it was sown.

In the mix an item may have a ``formulation``; in a label, besides the range and
the setbacks, ``carrier_min``, ``carrier_max`` and ``wind_max``.
"""

from dataclasses import replace

from planner.core.machine.machines import HAND_KINDS
from planner.core.mix.measures import USUAL_MEASURES, USUAL_SCALES, Measures
from planner.core.request.asked import PlanRequest, RateMeets
from planner.core.request.days import working_day
from planner.core.request.distances import read_distances
from planner.core.request.job import check_job
from planner.core.request.machine import read_machine
from planner.core.request.mix import read_mix
from planner.core.request.mixing import read_mixing
from planner.core.request.nutrient_limits import KNOWN as NUTRIENTS
from planner.core.request.nutrient_limits import read_nutrient_rules
from planner.core.request.past import read_past
from planner.core.request.placing import read_placing
from planner.core.request.plants import read_plants
from planner.core.request.reader import Believable, Faults, Members, open_object, quantity_at
from planner.core.request.route import read_route
from planner.core.request.rules import read_rules
from planner.core.request.spots import read_spots
from planner.core.request.tank import read_tank_now
from planner.core.request.tanks_before import read_tanks_before
from planner.core.request.weather import read_turfgrasses, read_weather
from planner.core.request.wind import read_wind_rule
from planner.core.shown import Units
from properties.core.errors import FaultsFound
from properties.core.features import Role
from properties.core.outlines import Drawing, read_drawing
from properties.core.setbacks import Claim
from properties.core.units import Dimension, Quantity

KNOWN = (
    *("property", "machine", "mix", "weather", "units"),
    *("setback_defaults", "setback_defaults_source", "measures"),
    *("setback_rules", "on", "wind_rule", "hand_tool", "rate_meets"),
    *("tank_now", "passes", "position_errors", "better_error"),
    *("turfgrasses", "route", "mixing_order", "do_not_mix", "jar_tests", "water_test"),
    *("first_pass_used", *NUTRIENTS),
    *("history", "history_since", "blackouts", "seedings", "tanks_before", "plants"),
    "spots",
)
KNOWN_OF_MEASURES = ("liquid", "dry", "granules")

MOST_MEASURES = 10

LIQUID_MARKS = Believable(Quantity(0.001, "mL"), Quantity(1000, "L"))
DRY_MARKS = Believable(Quantity(0.001, "g"), Quantity(1000, "kg"))


def read_request(value: object) -> PlanRequest:
    """Read a plan request from a JSON value.

    Parameters
    ----------
    value : object
        What the JSON text held. [-]

    Returns
    -------
    PlanRequest
        What is asked for, every quantity with its unit. [unit as written]

    Raises
    ------
    FaultsFound
        If anything cannot be read: every fault with its path and a remedy.

    References
    ----------
    Our own format, docs/plan-request.md; RFC 7946 for the geometry.
    """
    faults = Faults()
    whole = open_object(faults, "", value, KNOWN)
    request = None if whole is None else _request(whole)
    if request is None or faults.found:
        raise FaultsFound(faults.found)
    return request


def _request(whole: Members) -> PlanRequest | None:
    faults = whole.faults
    drawing = _drawing(whole)
    machine = None
    if whole.want("machine", "Say what sprays: its kind, swath, tanks and calibration."):
        machine = read_machine(faults, "machine", whole.values["machine"])
    hand_tool = None
    if whole.has("hand_tool"):
        value = whole.values["hand_tool"]
        hand_tool = read_machine(faults, "hand_tool", value, kinds=HAND_KINDS)
    products = read_mix(whole)
    units = Units(whole.choice("units", tuple(Units)) or Units.US)
    rate_meets = RateMeets(whole.choice("rate_meets", tuple(RateMeets)) or RateMeets.SURFACE)
    tank_now = read_tank_now(whole, products, machine=machine, hand_tool=hand_tool)
    on = working_day(whole, "on")
    is_spread = machine is not None and machine.spreading is not None
    measures = _measures(whole, units, is_spread=is_spread)
    weather, wind_rule = read_weather(whole), read_wind_rule(whole)
    defaults, rules = _setback_defaults(whole), read_rules(whole, on=on)
    # Plants are only counted in the drawing.
    placing = read_placing(whole, Drawing(()) if whole.has("plants") else drawing)
    nutrient_rules = read_nutrient_rules(whole, on=on)
    route = read_route(whole, machine=machine, products=products, on=on)
    by_hand = hand_tool if hand_tool or route is None else route.hand_tool
    past = read_past(whole, products, on=on)
    plants = read_plants(whole, drawing, machine=machine, products=products)
    if drawing is None or machine is None:
        return None
    first_pass_used = check_job(whole, machine, products)
    return PlanRequest(
        drawing if plants is None else Drawing(()),
        machine,
        products,
        measures,
        weather,
        units,
        setback_defaults=defaults,
        setback_rules=rules,
        on=on,
        wind_rule=wind_rule,
        hand_tool=hand_tool,
        rate_meets=rate_meets,
        tank_now=tank_now,
        passes=whole.flag("passes") if whole.has("passes") else None,
        placing=placing,
        turfgrasses=read_turfgrasses(whole),
        mixing=read_mixing(whole, products),
        nutrient_rules=nutrient_rules,
        first_pass_used=first_pass_used,
        route=route,
        past=past,
        tanks_before=read_tanks_before(whole, machine, by_hand, on=on),
        plants=plants,
        spots=read_spots(whole),
    )


def _drawing(whole: Members) -> Drawing | None:
    if whole.has("route") and not whole.has("property"):
        for name in filter(whole.has, ("history", "history_since", "blackouts", "seedings")):
            remedy = "Write it with the drawn lawn of the route that it is about."
            whole.faults.add(name, "Nobody says for which ground this is.", remedy)
        return Drawing(())
    if whole.has("plants") and not whole.has("property"):
        return Drawing(())
    if not whole.want("property", "Draw the place as a GeoJSON FeatureCollection."):
        return None
    drawing = whole.faults.trying(lambda: read_drawing(whole.values["property"]), below="property")
    needs_turf = not whole.has("plants")
    if needs_turf and drawing is not None and not drawing.of_role(Role.TURF):
        whole.faults.add("property", "No turf is drawn.", "Draw the turf that is to be sprayed.")
    return drawing


def _measures(whole: Members, units: Units, *, is_spread: bool) -> Measures:
    usual, scales = USUAL_MEASURES[units], USUAL_SCALES[units]
    members = whole.within("measures", KNOWN_OF_MEASURES)
    if members is None:
        return replace(usual, dry=scales) if is_spread else usual
    liquid = _marks(members, "liquid", Dimension.VOLUME, LIQUID_MARKS) or usual.liquid
    dry = _marks(members, "dry", Dimension.MASS, DRY_MARKS) or usual.dry
    granules = _marks(members, "granules", Dimension.MASS, DRY_MARKS) or scales
    return Measures(liquid, granules if is_spread else dry)


def _marks(
    members: Members, name: str, kind: Dimension, believable: Believable
) -> tuple[Quantity, ...]:
    read = [
        quantity_at(members.faults, path, item, kind, believable=believable)
        for path, item in members.items(name, most=MOST_MEASURES)
    ]
    marks = [mark for mark in read if mark is not None]
    return tuple(sorted(marks, key=lambda mark: -mark.si))


def _setback_defaults(whole: Members) -> dict[str, Claim] | None:
    source = whole.name("setback_defaults_source")
    ground = f"default distance ({source})" if source else "default distance of this request"
    distances = read_distances(whole, "setback_defaults")
    if not whole.has("setback_defaults"):
        return None
    return {kind: Claim(distance, ground) for kind, distance in distances.items()}
