"""What the planned jobs of a firm need, and what to buy so that it is there in time."""

import hashlib
import json
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from django.db.models import Max, QuerySet

from planner.core.calibration.spread import StandardError
from planner.core.plan import Plan, plan_from_json
from planner.core.pricing.of_plan import visit_of
from planner.core.stock.needs import Need
from planner.core.stock.of_plan import Shared, needs_of
from planner.core.tools import Tool
from planner.models import Calibration, Job, LabelVersion, Machine, Mix, MixPart, PlannedUse
from planner.selectors.calibrations import newest_calibration
from planner.selectors.jobs import jobs_of
from planner.selectors.plans import Asked, request_for
from planner.selectors.seasons import Turf
from properties.core.errors import FaultsFound, Refused
from properties.models import Person, SetbackRule

Json = dict[str, Any]

#: How far ahead jobs are looked at.
AHEAD = timedelta(days=400)
#: A job whose days are over for longer is not done any more, unless somebody says so.
LATE = timedelta(days=30)
LONGEST_REASON = 600


def planned_jobs(person: Person, *, on: date) -> QuerySet[Job]:
    """List the jobs that are still to be done, from those that are late to a season ahead."""
    return (
        jobs_of(person)
        .filter(state="planned", from_on__lte=on + AHEAD)
        .select_related("planned_use")
    )


@dataclass(frozen=True)
class Unplanned:
    """A job whose need nobody knows, and why."""

    job: Job
    why: str


@dataclass
class Needs:
    """What the planned jobs need, by product name.

    ``missed`` are jobs whose days are long over; they are left out. ``stale`` are jobs that
    were never worked out, or not since something changed; ``refused`` are counted, though
    their plan must not be carried out as it stands.
    """

    by_product: dict[str, list[Need]] = field(default_factory=lambda: defaultdict(list))
    missed: list[Job] = field(default_factory=list)
    stale: list[Job] = field(default_factory=list)
    unplanned: list[Unplanned] = field(default_factory=list)
    refused: list[Unplanned] = field(default_factory=list)


def planned_needs(person: Person, *, on: date) -> Needs:
    """Gather what was worked out for the planned jobs of a person’s firm."""
    told = Needs()
    jobs: list[Job] = []
    for job in planned_jobs(person, on=on):
        (told.missed if job.to_on < on - LATE else jobs).append(job)
    prints = prints_of(jobs)
    for job in jobs:
        use: PlannedUse | None = getattr(job, "planned_use", None)
        if use is None or use.made_of != prints[job.pk]:
            told.stale.append(job)
        elif use.why_not:
            told.unplanned.append(Unplanned(job, use.why_not))
        else:
            _add(told, job, use.facts, on)
    return told


def _add(told: Needs, job: Job, facts: Json, on: date) -> None:
    for name, need in _read(facts, max(job.from_on, on)):
        told.by_product[name].append(need)
    if facts["refusals"]:
        told.refused.append(Unplanned(job, " ".join(facts["refusals"])))


def work_out(person: Person, job: Job, *, on: date) -> tuple[Json, str]:
    """Plan one job through the one door: its facts, or why there are none."""
    try:
        plan = plan_from_json(_request(person, job, on))
    except Refused as refused:
        return {}, str(refused)[:LONGEST_REASON]
    except FaultsFound as found:
        return {}, " ".join(str(fault) for fault in found.faults)[:LONGEST_REASON]
    return _written(plan, job), ""


def _request(person: Person, job: Job, on: date) -> Json:
    if job.machine is None:
        raise Refused("machine", "Nobody says with which machine.", "Choose one in the season.")
    day = max(job.from_on, on)
    asked = Asked(job.place, job.machine, job.mix, hand_tool=job.hand_tool, passes=True, on=day)
    request = request_for(person, asked, day=day)
    return request if job.programme is None else Turf(job.programme).keep(request)


def _written(plan: Plan, job: Job) -> Json:
    tools = {Tool.MACHINE: job.machine, Tool.HAND_TOOL: job.hand_tool}
    calibrations = {tool: _calibration(machine) for tool, machine in tools.items() if machine}
    shared = Shared(f"place {job.place_id}", calibrations)
    visit = visit_of(plan, name=job.name, costs={})
    units = {total.product.name: "L" if total.product.is_liquid else "kg" for total in plan.totals}
    return {
        "area_m2": visit.area_m2,
        "edge_m": visit.edge_m,
        "passes_s": visit.passes_s,
        "paced_m2": visit.paced_m2,
        "refusals": [refusal.message for refusal in plan.refusals],
        "products": {
            name: {
                "amount": need.amount,
                "unit": units[name],
                "by_ground": dict(need.by_ground),
                "by_output": {
                    key: [error.share, error.freedom] for key, error in need.by_output.items()
                },
                "has_range": need.has_range,
            }
            for name, need in needs_of(plan, on=job.from_on, shared=shared).items()
        },
    }


def _calibration(machine: Machine) -> str:
    found = newest_calibration(machine)
    return f"machine {machine.pk}" if found is None else f"calibration {found.pk}"


def _read(facts: Json, on: date) -> Iterator[tuple[str, Need]]:
    for name, told in facts["products"].items():
        errors = {
            key: StandardError(share, freedom)
            for key, (share, freedom) in told["by_output"].items()
        }
        need = Need(on, told["amount"], told["by_ground"], errors, has_range=told["has_range"])
        yield name, need


def prints_of(jobs: Sequence[Job]) -> dict[int, str]:
    """Stand for all that goes into the plan of each job, so that a change is noticed."""
    machines = _prints_of_machines(jobs)
    mixes = _prints_of_mixes({job.mix for job in jobs})
    rules = _prints_of_rules({job.firm_id for job in jobs})
    told = {}
    for job in jobs:
        parts = (
            (job.place_id, job.place.drawing_number, job.place.turfgrasses),
            (machines.get(job.machine_id or 0), machines.get(job.hand_tool_id or 0)),
            (mixes[job.mix_id], rules.get(job.firm_id), job.from_on),
            [] if job.programme is None else job.programme.turfgrasses,
        )
        text = json.dumps(parts, default=str)
        told[job.pk] = hashlib.sha256(text.encode()).hexdigest()
    return told


def _prints_of_machines(jobs: Iterable[Job]) -> dict[int, Any]:
    tools = {job.machine for job in jobs} | {job.hand_tool for job in jobs}
    keys = [tool.pk for tool in tools if tool is not None]
    newest = dict(
        Calibration.objects.filter(machine__in=keys)
        .order_by()
        .values_list("machine")
        .annotate(Max("pk"))
    )
    rows = Machine.objects.filter(pk__in=keys).values()
    return {row["id"]: (row, newest.get(row["id"])) for row in rows}


def _prints_of_mixes(mixes: Iterable[Mix]) -> dict[int, Any]:
    parts = MixPart.objects.filter(mix__in=mixes)
    labels = dict(
        LabelVersion.objects.filter(product__mix_parts__in=parts)
        .order_by()
        .values_list("product")
        .annotate(Max("number"))
    )
    told: dict[int, list[Any]] = {mix.pk: [mix.name] for mix in mixes}
    for part in parts.order_by("pk").values():
        told[part["mix_id"]].append((part, labels.get(part["product_id"])))
    return told


def _prints_of_rules(firms: Iterable[int]) -> Mapping[int, Any]:
    told: dict[int, list[Any]] = defaultdict(list)
    for row in SetbackRule.objects.filter(firm__in=firms).order_by("pk").values():
        told[row["firm_id"]].append(row)
    return told
