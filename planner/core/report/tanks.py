"""What goes into the tanks, as JSON: output, products, loads."""

from planner.core.calibration import Nozzle, Output, Reading, Run
from planner.core.mix.mixing import WORDS
from planner.core.mix.portions import Load, Portion, Total
from planner.core.mix.products import Product
from planner.core.report.mixing import steps_as_json
from planner.core.report.quantities import Json, maybe, quantity, range_of, rate_of
from planner.core.shown import Shown
from properties.core.units import Quantity, quantity_of_si


def output_as_json(output: Output, shown: Shown) -> Json:
    """Write an output with its runs.

    Parameters
    ----------
    output : Output
        The output. [L/m²]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        The member ``output``. [units shown]

    Raises
    ------
    Nothing
        Every output can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    variation, error = output.variation, output.error
    return {
        **quantity(shown.output_of(output.l_per_m2)),
        "method": output.way.value,
        "runs": len(output.runs),
        "runs_kept": len(output.kept),
        "cv_percent": None if variation is None else 100 * variation,
        "plus_minus_percent": None if error is None else 100 * error.half_width,
        "flukes": [_fluke(run, output.reading, shown) for run in output.flukes],
        **(
            {"nozzles": [_nozzle(each, shown) for each in output.nozzles]} if output.nozzles else {}
        ),
    }


def _fluke(run: Run, reading: Reading, shown: Shown) -> Json:
    is_time = reading is Reading.TIME
    read = Quantity(run.read, "s") if is_time else shown.spray_of(run.read)
    return {
        "run": run.number,
        reading.value: quantity(read),
        "deviation_percent": 100 * run.deviation,
    }


def _nozzle(nozzle: Nozzle, shown: Shown) -> Json:
    return {
        "nozzle": nozzle.number,
        "catch": quantity(shown.product_of(nozzle.catch_l)),
        "deviation_percent": 100 * nozzle.deviation,
        "is_off": nozzle.is_off,
    }


def total_as_json(total: Total, shown: Shown) -> Json:
    """Write a product for the whole of what a total is for.

    Parameters
    ----------
    total : Total
        The product. [L or kg]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        An item of the member ``products``. [units shown]

    Raises
    ------
    Nothing
        Every product can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    product = total.product
    unit = shown.amount_unit(product.rate)
    measures = {portion.measured.mark for portion in total.portions if portion.measured is not None}
    finest = min(measures, key=lambda mark: mark.si, default=None)
    return {
        "name": product.name,
        "amount": quantity(quantity_of_si(total.amount, unit)),
        "rate_used": rate_of(product, product.rate.si, shown),
        "label_range": range_of(product, shown),
        "amount_to_measure": maybe(total.measured_in(unit)),
        "rate_after_rounding": rate_of(product, total.rate_after_rounding(), shown),
        "measure": maybe(finest),
        **_least_as_json(product, shown),
    }


def _least_as_json(product: Product, shown: Shown) -> Json:
    """Write which of two rates counts, where the label has a least share of the spray too."""
    least = product.least
    if least is None:
        return {}
    told = {
        "rate_asked": rate_of(product, least.asked.si, shown),
        "least_in_spray": quantity(least.least),
        "rate_of_least": rate_of(product, least.rate_si, shown),
        "least_rules": least.rules,
    }
    return {"whichever_is_more": told}


def mixed_as_json(product: Product) -> Json:
    """Write when a product goes into the tank.

    Parameters
    ----------
    product : Product
        The product. [-]

    Returns
    -------
    dict
        An item of the member ``mixing_order``. [-]

    Raises
    ------
    Nothing
        Every product can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    formulation = product.formulation
    return {
        "name": product.name,
        "formulation": None if formulation is None else formulation.token,
        "step": None if formulation is None else WORDS[formulation.step],
    }


def load_as_json(load: Load, shown: Shown) -> Json:
    """Write a load, its products in mixing order.

    Parameters
    ----------
    load : Load
        The load. [L, m²]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    dict
        An item of the member ``loads``. [units shown]

    Raises
    ------
    Nothing
        Every load can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    fill = load.fill
    water = None if load.water_l is None else shown.spray_of(load.water_l)
    return {
        "number": fill.number,
        "filling": fill.filling,
        "tank": fill.tank_name,
        "volume": quantity(shown.spray_of(fill.volume_l)),
        **({"stays": quantity(shown.spray_of(fill.stays_l))} if fill.stays_l else {}),
        "area": quantity(shown.area_of(load.area_m2)),
        **_rate_area(load, shown),
        "water": maybe(water),
        "products": [_portion(portion, shown) for portion in load.portions],
        "steps": steps_as_json(load, shown),
    }


def _rate_area(load: Load, shown: Shown) -> Json:
    return {} if load.slope_factor == 1 else {"rate_area": quantity(shown.area_of(load.rated_m2))}


def _portion(portion: Portion, shown: Shown) -> Json:
    product, measured = portion.product, portion.measured
    unit = shown.amount_unit(product.rate)
    return {
        "name": product.name,
        "amount": quantity(quantity_of_si(portion.amount, unit)),
        "amount_to_measure": None if measured is None else quantity(measured.shown_in(unit)),
        "measure": None if measured is None else quantity(measured.mark),
        "rate_after_rounding": rate_of(product, portion.rate_after_rounding, shown),
    }
