"""How each load's volume, area, water and portions came about."""

from collections.abc import Iterator

from planner.core.measures import Measured
from planner.core.planned import Planned
from planner.core.portions import Load, Portion
from planner.core.shown import Shown, in_unit
from planner.core.workings.products import (
    AMOUNT_SOURCE,
    MEASURE_SOURCE,
    amount_formula,
    extent_input,
    rate_formula,
)
from planner.core.workings.terms import explained
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import COMMON_PRACTICE, Figure, Input

FILL_SOURCE = "Our own rule: the tanks are filled in their order; the last load takes the rest."
AREA_SOURCE = (
    "Mesa County (Colorado) Weed & Pest, How to Calibrate a Handgun: area per tank = tank / output."
)


def load_figures(planned: Planned) -> Iterator[Figure]:
    """Derive the figures of every load.

    Parameters
    ----------
    planned : Planned
        The figures. [-]

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
    for number, load in enumerate(planned.loads):
        key = f"loads[{number}]"
        yield _volume(key, load, planned)
        yield _area(key, load, planned)
        yield from _water(key, load, planned.shown)
        for position, portion in enumerate(load.portions):
            yield from _portion(f"{key}.products[{position}]", portion, load, planned.shown)


def _volume(key: str, load: Load, planned: Planned) -> Figure:
    spray_of, fill = planned.shown.spray_of, load.fill
    tank = planned.request.machine.tanks[fill.tank - 1]
    return Figure(
        f"{key}.volume",
        f"Load {fill.number}: finished spray in {fill.tank_name}",
        "min(tank, all spray − spray in earlier loads)",
        (
            Input("tank", in_unit(tank, planned.shown.spray)),
            Input("all spray", spray_of(planned.carrier_l)),
            Input("spray in earlier loads", spray_of(fill.before_l)),
        ),
        spray_of(fill.volume_l),
        FILL_SOURCE,
    )


def _area(key: str, load: Load, planned: Planned) -> Figure:
    shown = planned.shown
    return Figure(
        f"{key}.area",
        f"Load {load.fill.number}: ground it is for",
        f"{shown.per_area} × volume / output",
        (
            Input("volume", shown.spray_of(load.fill.volume_l)),
            Input("output", shown.output_of(planned.output.l_per_m2)),
        ),
        shown.area_of(load.area_m2),
        AREA_SOURCE,
    )


def _water(key: str, load: Load, shown: Shown) -> Iterator[Figure]:
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
        f"{key}.water",
        explained(f"Load {load.fill.number}: water to add", told),
        f"volume{products}",
        (Input("volume", shown.spray_of(load.fill.volume_l)), *amounts),
        shown.spray_of(load.water_l),
        COMMON_PRACTICE,
    )


def _portion(key: str, portion: Portion, load: Load, shown: Shown) -> Iterator[Figure]:
    product, where = portion.product, f"Load {load.fill.number}"
    extent = extent_input(
        product,
        area=Input("area", shown.area_of(load.area_m2)),
        spray=Input("volume", shown.spray_of(load.fill.volume_l)),
    )
    rate = Input("rate", shown.rate_of(product.rate, product.rate.si))
    unit = shown.amount_unit(product.rate)
    yield Figure(
        f"{key}.amount",
        f"{where}: {product.name}",
        amount_formula(product, extent.name, shown),
        (extent, rate),
        quantity_of_si(portion.amount, unit),
        AMOUNT_SOURCE,
    )
    if portion.measured is None or portion.rate_after_rounding is None:
        return
    yield _measured(key, f"{where}: {product.name} to measure out", portion.measured, unit)
    yield Figure(
        f"{key}.rate_after_rounding",
        f"{where}: rate that the measured {product.name} gives",
        rate_formula(product, extent.name, shown),
        (Input("measured", portion.measured.shown_in(unit)), extent),
        shown.rate_of(product.rate, portion.rate_after_rounding),
        AMOUNT_SOURCE,
    )


def _measured(key: str, name: str, measured: Measured, unit: str) -> Figure:
    mark = in_unit(measured.mark, unit)
    return Figure(
        f"{key}.amount_to_measure",
        name,
        "number of marks × mark",
        (Input("number of marks", Quantity(measured.marks, "")), Input("mark", mark)),
        measured.shown_in(unit),
        MEASURE_SOURCE,
    )
