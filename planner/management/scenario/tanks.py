"""What the tanks of the demo firm held, and that they were rinsed."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from planner.selectors.equipment import machines_of
from planner.selectors.products import mixes_of
from planner.services.tanks import confirm_rinse, record_tank_use
from properties.models import Person
from properties.selectors.people import people_of


def write_tank_uses(written: Mapping[str, Any], owner: Person) -> None:
    """Write the history of each tank once."""
    people = {person.email: person for person in people_of(owner)}
    for facts in written["tank_uses"]:
        machine = machines_of(owner).get(name=facts["machine"])
        at = datetime.fromisoformat(facts["at"])
        if machine.tank_uses.filter(mixed_at=at).exists():
            continue
        person = people[facts["by"]]
        mix = mixes_of(owner).get(name=facts["mix"])
        use = record_tank_use(machine, tank=facts["tank"], mix=mix, person=person, at=at)
        if rinsed := facts.get("rinsed"):
            rinsed_at = datetime.fromisoformat(rinsed["at"])
            confirm_rinse(use, person=person, at=rinsed_at, how=rinsed["how"])
