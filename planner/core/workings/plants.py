"""How the figures of a job with single plants came about."""

from collections.abc import Iterator

from planner.core.label.labels import Basis
from planner.core.mix.portions import Load, Portion, Total
from planner.core.mix.products import Product
from planner.core.plant_job import PlantJob
from planner.core.shown import in_unit
from planner.core.workings.day_terms import worked
from planner.core.workings.keep_off import keep_off_figures
from planner.core.workings.loads import water_figures
from planner.core.workings.mixing import step_figures
from planner.core.workings.products import MEASURE_SOURCE, amount_formula, rate_formula
from planner.core.workings.terms import below, summed
from properties.core.units import Quantity, quantity_of_si
from properties.core.working import Figure, Input

EACH_SOURCE = "By definition: all = number of plants × what each gets."
FILL_SOURCE = "Our own rule: a tank is filled for whole plants; the last load takes the rest."


def plant_figures(job: PlantJob) -> Iterator[Figure]:
    """Derive every figure of a job with single plants.

    Parameters
    ----------
    job : PlantJob
        The job. [L, L or kg]

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
    told = {product.name: product for product in job.told}
    yield worked(
        "plants.spray",
        "Finished spray for all plants",
        "plants × spray for each",
        [("plants", _count(job)), _each(job)],
        job.shown.spray_of(job.plants.spray_l),
        EACH_SOURCE,
    )
    for number, total in enumerate(job.totals):
        product = told[total.product.name]
        yield from below(f"products[{number}]", _total(job, product, total))
    yield from keep_off_figures(job.request.products)
    for number, load in enumerate(job.loads):
        yield from below(f"loads[{number}]", _load(job, load, told))


def _count(job: PlantJob) -> Quantity:
    return Quantity(float(job.plants.count), "")


def _each(job: PlantJob) -> tuple[str, Quantity]:
    return "spray for each", in_unit(job.plants.spray_each, job.shown.spray)


def _total(job: PlantJob, product: Product, total: Total) -> Iterator[Figure]:
    shown, unit = job.shown, job.shown.amount_unit(product.rate)
    rate = ("rate", shown.rate_of(product.rate, product.rate.si))
    if product.kind.basis is Basis.PLANT:
        formula, extent = "plants × rate", ("plants", _count(job))
    else:
        formula = amount_formula(product, "spray", shown)
        extent = ("spray", shown.spray_of(job.plants.spray_l))
    amount = quantity_of_si(total.amount, unit)
    name = f"{product.name} for all plants"
    yield worked("amount", name, formula, [extent, rate], amount, EACH_SOURCE)
    measured = total.measured_in(unit)
    if measured is None:
        return
    by_load = tuple(
        Input(f"load {load.fill.number}", portion.measured.shown_in(unit))
        for load, portion in zip(job.loads, total.portions, strict=True)
        if portion.measured is not None
    )
    name = f"{product.name} to measure out, all loads together"
    yield Figure("amount_to_measure", name, summed(by_load), by_load, measured, MEASURE_SOURCE)
    mixed = ("mixed", shown.spray_of(job.mixed_l))
    yield _after(job, product, total.rate_after_rounding(), ("measured", measured), mixed)


def _after(
    job: PlantJob,
    product: Product,
    per_l: float | None,
    measured: tuple[str, Quantity],
    spray: tuple[str, Quantity],
) -> Figure:
    """The rate that a measured amount in some spray gives a plant."""
    formula, inputs = rate_formula(product, spray[0], job.shown), [measured, spray]
    if product.kind.basis is Basis.PLANT:
        formula, inputs = f"{formula} × spray for each", [*inputs, _each(job)]
    rate = job.each(product, per_l) or 0.0
    name = f"Rate that the measured {product.name} gives"
    result = job.shown.rate_of(product.rate, rate)
    return worked("rate_after_rounding", name, formula, inputs, result, EACH_SOURCE)


def _load(job: PlantJob, load: Load, told: dict[str, Product]) -> Iterator[Figure]:
    shown, fill = job.shown, load.fill
    volume = ("volume", shown.spray_of(fill.volume_l))
    stays = ("stays in the tank", shown.spray_of(fill.stays_l))
    plants = Quantity(job.plants_in(load), "")
    yield worked(
        "volume",
        f"Load {fill.number}: finished spray in {fill.tank_name}",
        "plants of this load × spray for each + stays in the tank",
        [("plants of this load", plants), _each(job), stays],
        volume[1],
        FILL_SOURCE,
    )
    yield worked(
        "plants",
        f"Load {fill.number}: plants it is enough for",
        "min(plants that fit in the tank, plants left)",
        [
            ("plants that fit in the tank", Quantity(job.plants_that_fit(fill.tank), "")),
            ("plants left", Quantity(job.plants.count - job.plants_before(load), "")),
        ],
        plants,
        FILL_SOURCE,
    )
    yield from water_figures(load, shown)
    for number, portion in enumerate(load.portions):
        product = told[portion.product.name]
        yield from below(f"products[{number}]", _portion(job, load, portion, product))
    yield from step_figures(load, shown=shown)


def _portion(job: PlantJob, load: Load, portion: Portion, product: Product) -> Iterator[Figure]:
    shown, unit = job.shown, job.shown.amount_unit(product.rate)
    volume = ("volume", shown.spray_of(load.fill.volume_l))
    inputs = [volume, ("rate", shown.rate_of(product.rate, product.rate.si))]
    formula = amount_formula(product, "volume", shown)
    if product.kind.basis is Basis.PLANT:
        formula, inputs = f"{formula} / spray for each", [*inputs, _each(job)]
    where = f"Load {load.fill.number}: {product.name}"
    amount = quantity_of_si(portion.amount, unit)
    yield worked("amount", where, formula, inputs, amount, EACH_SOURCE)
    if portion.measured is None:
        return
    measured = portion.measured
    marks = ("number of marks", Quantity(measured.marks, ""))
    yield worked(
        "amount_to_measure",
        f"{where} to measure out",
        "number of marks × mark",
        [marks, ("mark", in_unit(measured.mark, unit))],
        measured.shown_in(unit),
        MEASURE_SOURCE,
    )
    told = ("measured", measured.shown_in(unit))
    yield _after(job, product, portion.rate_after_rounding, told, volume)
