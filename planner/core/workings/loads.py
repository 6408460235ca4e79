"""How each load's volume, area, water and portions came about."""

from collections.abc import Iterator

from planner.core.amounts.parts import Part
from planner.core.mix.measures import Measured
from planner.core.mix.portions import Load, Portion
from planner.core.shown import Shown, in_unit
from planner.core.workings.mixing import step_figures
from planner.core.workings.products import (
    AMOUNT_SOURCE,
    MEASURE_SOURCE,
    amount_formula,
    extent_input,
    rate_formula,
)
from planner.core.workings.terms import below, explained
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import COMMON_PRACTICE, Figure, Input

SLOPE_SOURCE = (
    "Asked for: the rate meets the area on the map. Turf on a slope is larger by sqrt(1 + slope²)."
)
FILL_SOURCE = "Our own rule: the tanks are filled in their order; the last load takes the rest."
STAYS_SOURCE = "As told of the machine; it is filled in once, with the first load of the tank."
AREA_SOURCE = (
    "Mesa County (Colorado) Weed & Pest, How to Calibrate a Handgun: area per tank = tank / output."
)


def load_figures(part: Part, *, shown: Shown, first: int = 0) -> Iterator[Figure]:
    """Derive the figures of every load of a part.

    Parameters
    ----------
    part : Part
        The part. [-]
    shown : Shown
        The units to show. [-]
    first : int
        The position of the part's first load among those that are told. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    for position, load in enumerate(part.loads, start=first):
        yield from below(f"loads[{position}]", _load(load, part, shown))


def _load(load: Load, part: Part, shown: Shown) -> Iterator[Figure]:
    yield _volume(load, part, shown)
    yield from _stays(load, shown)
    yield _area(load, part, shown)
    if part.slope_factor != 1:
        yield _rate_area(load, shown)
    yield from water_figures(load, shown)
    for position, portion in enumerate(load.portions):
        yield from below(f"products[{position}]", _portion(portion, load, shown))
    yield from step_figures(load, shown=shown)


def _volume(load: Load, part: Part, shown: Shown) -> Figure:
    spray_of, fill, sprayer = shown.spray_of, load.fill, part.sprayer
    tank = (sprayer.fill_limits or sprayer.tanks)[fill.tank - 1]
    formula = "min(tank, all spray − spray in earlier loads)"
    inputs = [
        Input("tank", in_unit(tank, shown.spray)),
        Input("all spray", spray_of(part.carrier_l)),
        Input("spray in earlier loads", spray_of(fill.before_l)),
    ]
    if sprayer.unsprayable:
        formula = (
            "min(tank − cannot be sprayed, all spray − spray in earlier loads) + filled in for that"
        )
        never_l = sprayer.unsprayable_l[fill.tank - 1]
        inputs.append(Input("cannot be sprayed", spray_of(never_l)))
        inputs.append(Input("filled in for that", spray_of(fill.stays_l)))
    return Figure(
        "volume",
        f"Load {fill.number}: finished spray in {fill.tank_name}",
        formula,
        tuple(inputs),
        spray_of(fill.volume_l),
        FILL_SOURCE,
    )


def _stays(load: Load, shown: Shown) -> Iterator[Figure]:
    if load.fill.stays_l:
        stays = shown.spray_of(load.fill.stays_l)
        yield Figure(
            "stays",
            f"Load {load.fill.number}: what of it stays in the sump and the hose",
            "as told",
            (Input("as told", stays),),
            stays,
            STAYS_SOURCE,
        )


def _area(load: Load, part: Part, shown: Shown) -> Figure:
    return Figure(
        "area",
        f"Load {load.fill.number}: ground it is for",
        f"{shown.per_area} × volume / output",
        (
            Input("volume", shown.spray_of(load.fill.volume_l)),
            Input("output", shown.output_of(part.output.l_per_m2)),
        ),
        shown.area_of(load.area_m2),
        AREA_SOURCE,
    )


def _rate_area(load: Load, shown: Shown) -> Figure:
    return Figure(
        "rate_area",
        f"Load {load.fill.number}: its ground on the map, which the label’s rate meets",
        "area / slope factor",
        (
            Input("area", shown.area_of(load.area_m2)),
            Input("slope factor", Quantity(load.slope_factor, "")),
        ),
        shown.area_of(load.rated_m2),
        SLOPE_SOURCE,
    )


def water_figures(load: Load, shown: Shown) -> Iterator[Figure]:
    """Derive the water of a load.

    Parameters
    ----------
    load : Load
        The load. [L]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Iterator[Figure]
        The derivation; none where the products leave no room for water. [units shown]

    Raises
    ------
    Nothing
        Every load has its water.

    References
    ----------
    Common practice.
    """
    if load.water_l is None:
        return
    liquids = [portion for portion in load.portions if portion.product.is_liquid]
    names = [f"liquid {number}" for number, _ in enumerate(liquids, start=1)]
    amounts = tuple(
        Input(name, quantity_of_si(portion.amount, shown.liquid))
        for name, portion in zip(names, liquids, strict=True)
    )
    told = [(name, portion.product.name) for name, portion in zip(names, liquids, strict=True)]
    products = "".join(f" − {name} / {shown.small_in_volume}" for name in names)
    yield Figure(
        "water",
        explained(f"Load {load.fill.number}: water to add", told),
        f"volume{products}",
        (Input("volume", shown.spray_of(load.fill.volume_l)), *amounts),
        shown.spray_of(load.water_l),
        COMMON_PRACTICE,
    )


def _portion(portion: Portion, load: Load, shown: Shown) -> Iterator[Figure]:
    product, where = portion.product, f"Load {load.fill.number}"
    extent = extent_input(
        product,
        area=Input(_area_name(load), shown.area_of(load.rated_m2)),
        spray=Input("volume", shown.spray_of(load.fill.volume_l)),
    )
    rate = Input("rate", shown.rate_of(product.rate, product.rate.si))
    unit = shown.amount_unit(product.rate)
    yield Figure(
        "amount",
        f"{where}: {product.name}",
        amount_formula(product, extent.name, shown),
        (extent, rate),
        quantity_of_si(portion.amount, unit),
        AMOUNT_SOURCE,
    )
    if portion.measured is None or portion.rate_after_rounding is None:
        return
    yield _measured(f"{where}: {product.name} to measure out", portion.measured, unit)
    yield Figure(
        "rate_after_rounding",
        f"{where}: rate that the measured {product.name} gives",
        rate_formula(product, extent.name, shown),
        (Input("measured", portion.measured.shown_in(unit)), extent),
        shown.rate_of(product.rate, portion.rate_after_rounding),
        AMOUNT_SOURCE,
    )


def _measured(name: str, measured: Measured, unit: str) -> Figure:
    mark = in_unit(measured.mark, unit)
    return Figure(
        "amount_to_measure",
        name,
        "number of marks × mark",
        (Input("number of marks", Quantity(measured.marks, "")), Input("mark", mark)),
        measured.shown_in(unit),
        MEASURE_SOURCE,
    )


def _area_name(load: Load) -> str:
    return "area" if load.slope_factor == 1 else "area on the map"
