"""Catch tests of a spreader with a product, and what they come to."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from planner.core.machine.spreaders import (
    CatchRun,
    CatchTests,
    settings_table,
    spread_output_of,
)
from planner.core.shown import SHOWN, Units
from planner.models import CatchTest, Machine, Product
from planner.selectors.calibrations import (
    fittings_row,
    lasting_members,
    lasting_of,
    set_up_members,
)
from planner.selectors.ground_done import day_made, ground_done_since
from properties.core.errors import Refused
from properties.core.units import Quantity
from properties.models import Person

#: The newest so many are planned with, as a request holds no more.
MOST_TESTS = 100


def spreadable_products_of(person: Person) -> list[Product]:
    """List what a person's firm may spread: granules, and dry fertilizers."""
    rows = Product.objects.filter(firm=person.firm_id)
    return [row for row in rows if row.formulation == "G" or (row.grade and not row.formulation)]


def catch_tests_for(machine: Machine, product: Product) -> list[CatchTest]:
    """List the catch tests of a machine with a product at its present swath, oldest first."""
    rows = CatchTest.objects.filter(machine=machine, product=product, swath=machine.swath)
    newest = rows.select_related("done_by").order_by("-done_at", "-pk")[:MOST_TESTS]
    return list(reversed(newest))


@dataclass(frozen=True)
class Setting:
    """A row of a firm's own table: a setting, what one pass puts down, how many tests."""

    setting: float
    rate: Quantity
    runs: int
    stands: bool


@dataclass(frozen=True)
class SettingsSheet:
    """The table of one product on one spreader, and its newest tests."""

    product: Product
    settings: tuple[Setting, ...]
    tests: tuple[CatchTest, ...]


def tested_products(machine: Machine) -> list[Product]:
    """List what a machine was tested with at its present swath, the one tested last first."""
    rows = machine.catch_tests.filter(swath=machine.swath).select_related("product")
    return list({row.product_id: row.product for row in rows.order_by("-done_at", "-pk")}.values())


def settings_sheets(machine: Machine, *, units: str) -> list[SettingsSheet]:
    """Put the catch tests of a machine together by product, the one tested last first."""
    return [_sheet(machine, product, units) for product in tested_products(machine)]


def _sheet(machine: Machine, product: Product, units: str) -> SettingsSheet:
    tests, shown = catch_tests_for(machine, product), SHOWN[Units(units)]
    output = spread_output_of(_core(tests), swath_m=machine.swath.si)
    settings = tuple(
        Setting(
            row.setting,
            shown.weight_rate_of(row.kg_per_m2),
            row.runs,
            stands=row.setting == output.setting,
        )
        for row in settings_table(output.runs)
    )
    return SettingsSheet(product, settings, tuple(reversed(tests)))


def _core(tests: Sequence[CatchTest]) -> CatchTests:
    return CatchTests(tuple(CatchRun(test.setting, test.used, test.area) for test in tests))


def spreader_members(machine: Machine, product: Product | None, *, on: date) -> dict[str, Any]:
    """Write a spreader as a member of a plan request. Refused without a test with the product."""
    if product is None:
        raise Refused("mix", "A spreader has nothing to put down.", "Choose a mix of one product.")
    if product.formulation not in {"", "G"}:
        raise Refused(
            "mix",
            f"{product} ({product.formulation}) is mixed with water, and {machine} spreads dry "
            "granules.",
            "Plan it with a sprayer, or choose a mix of one granule.",
        )
    tests = catch_tests_for(machine, product)
    if not tests:
        raise Refused(
            "machine",
            f"{machine} has no catch test with {product} at its present swath.",
            "Weigh back at least one run with this product: every product runs differently.",
        )
    written: dict[str, Any] = {
        "kind": machine.kind,
        "swath": machine.swath.to_the_last_digit,
        "times_over": machine.times_over,
        "calibration": {
            "method": "weigh_back",
            "product": product.name,
            "runs": [_run(test) for test in tests],
            **_made(machine, tests[-1], on),
        },
    }
    if set_up := set_up_members(fittings_row(machine)):
        written["set_up"] = set_up
    if machine.kind == "rotary_spreader":
        written["deflector"] = machine.deflector
    for name in ("hopper", "width"):
        told: Quantity | None = getattr(machine, name)
        if told is not None:
            written[name] = told.to_the_last_digit
    return written


def _made(machine: Machine, newest: CatchTest, on: date) -> dict[str, Any]:
    """When and how it was tested last, and for how long the firm takes that for good."""
    day = day_made(newest)
    made: dict[str, Any] = {"done_on": day.isoformat()}
    lasting = lasting_of(machine, fittings_row(machine))
    made |= lasting_members(lasting, lambda: ground_done_since(machine, day, until=on))
    if newest.set_up:
        made["set_up"] = newest.set_up
    return made


def _run(test: CatchTest) -> dict[str, Any]:
    return {
        "setting": test.setting,
        "used": test.used.to_the_last_digit,
        "area": test.area.to_the_last_digit,
    }
