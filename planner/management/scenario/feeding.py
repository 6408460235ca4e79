"""The spreader of the demo, its catch tests, and the limits on nutrients it works under."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from planner.models import Machine, NutrientLimit
from planner.selectors.equipment import machines_of
from planner.selectors.nutrients import nutrient_limits_of
from planner.selectors.products import products_of
from planner.services.nutrients import set_nutrient_limit
from planner.services.spreaders import Runs, keep_spreader, record_catch_tests
from properties.core.units import Quantity, parse_quantity
from properties.models import Person
from properties.selectors.people import people_of


def load_feeding(written: Mapping[str, Any], *, owner: Person, at: datetime) -> None:
    """Add what is missing; what is there already stays as it is."""
    present = set(machines_of(owner).values_list("name", flat=True))
    for facts in written["spreaders"]:
        if facts["name"] not in present:
            _spreader(facts, owner)
    if not nutrient_limits_of(owner).exists():
        for facts in written["nutrient_limits"]:
            limit = NutrientLimit(
                nutrient=facts["nutrient"],
                per=facts["per"],
                at_most=parse_quantity(facts["at_most"]),
                unless_soil_test=facts.get("unless_soil_test", False),
                least_slow_release=_share(facts.get("least_slow_release")),
                source=facts["source"],
                from_on=date.fromisoformat(facts["from"]),
            )
            set_nutrient_limit(person=owner, limit=limit, at=at)


def _share(written: str | None) -> Quantity | None:
    return None if written is None else parse_quantity(written)


def _spreader(facts: Mapping[str, Any], owner: Person) -> None:
    people = {person.email: person for person in people_of(owner)}
    machine = keep_spreader(
        Machine(
            firm=owner.firm,
            name=facts["name"],
            kind=facts["kind"],
            swath=parse_quantity(facts["swath"]),
            hopper=parse_quantity(facts["hopper"]),
            width=parse_quantity(facts["width"]),
            deflector=facts["deflector"],
            set_up_note=facts["set_up_note"],
        )
    )
    for tests in facts["catch_tests"]:
        runs = Runs(
            products_of(owner).get(name=tests["product"]),
            tests["setting"],
            parse_quantity(tests["area"]),
            tuple(map(parse_quantity, tests["used"])),
        )
        record_catch_tests(
            machine,
            runs,
            person=people[tests["by"]],
            at=datetime.fromisoformat(tests["at"]),
            note=tests["note"],
        )
