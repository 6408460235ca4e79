"""A job with single plants as JSON."""

from planner.core.mix.portions import Load, Portion
from planner.core.plant_job import PlantJob
from planner.core.report.label_facts import label_facts_as_json
from planner.core.report.quantities import Json, quantity, range_of, rate_of
from planner.core.report.tanks import load_as_json, mixed_as_json, total_as_json
from planner.core.report.tanks_before import tanks_before_as_json
from planner.core.report.told import figure_as_json, finding_as_json
from planner.core.workings.plants import plant_figures


def plant_job_as_json(job: PlantJob) -> Json:
    """Write the plan of plants that are treated one by one.

    Parameters
    ----------
    job : PlantJob
        The job. [L, L or kg]

    Returns
    -------
    dict
        The members of a plan that plants have. [units of the request]

    Raises
    ------
    Nothing
        Every job can be written.

    References
    ----------
    Our own format, docs/plan-request.md.
    """
    shown, plants = job.shown, job.plants
    return {
        "units": job.request.units.value,
        "hold": job.is_on_hold,
        "mixing_order": [mixed_as_json(product) for product in job.told],
        "plants": {
            "count": plants.count,
            "counted": list(plants.counted),
            "spray_each": quantity(plants.spray_each),
            "spray": quantity(shown.spray_of(plants.spray_l)),
        },
        "products": _products(job),
        "loads": [_load(job, load) for load in job.loads],
        **tanks_before_as_json(job.request.tanks_before),
        **label_facts_as_json(job.request.products),
        "warnings": [finding_as_json(finding) for finding in job.findings.warnings],
        "refusals": [finding_as_json(finding) for finding in job.findings.refusals],
        "notes": [],
        "working": [figure_as_json(figure) for figure in plant_figures(job)],
    }


def _products(job: PlantJob) -> list[Json]:
    """Each product as that of any plan, its rates for each plant."""
    shown = job.shown
    return [
        {
            **total_as_json(total, shown),
            "rate_used": rate_of(product, product.rate.si, shown),
            "label_range": range_of(product, shown),
            "rate_after_rounding": rate_of(
                product, job.each(product, total.rate_after_rounding()), shown
            ),
        }
        for product, total in zip(job.request.products, job.totals, strict=True)
    ]


def _load(job: PlantJob, load: Load) -> Json:
    """A load as that of any plan, for plants and not for ground."""
    told = {product.name: product for product in job.told}
    written = load_as_json(load, job.shown)
    del written["area"]
    rates = [
        rate_of(told[portion.product.name], _each(job, portion), job.shown)
        for portion in load.portions
    ]
    products = [
        {**product, "rate_after_rounding": rate}
        for product, rate in zip(written["products"], rates, strict=True)
    ]
    return {**written, "plants": job.plants_in(load), "products": products}


def _each(job: PlantJob, portion: Portion) -> float | None:
    told = {product.name: product for product in job.told}
    return job.each(told[portion.product.name], portion.rate_after_rounding)
