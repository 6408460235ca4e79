"""Recording what a tank held, and that it was rinsed."""

from datetime import datetime

from django.db import transaction

from planner.models import Machine, Mix, TankUse
from properties.core.errors import Refused
from properties.models import Person


@transaction.atomic
def record_tank_use(
    machine: Machine, *, tank: int, mix: Mix, person: Person, at: datetime
) -> TankUse:
    """Record that a mix was put into a tank. Refused where the machine has no such tank."""
    if not machine.tanks.filter(position=tank).exists():
        raise Refused("tank", f"{machine} has no tank {tank}.", "Choose one that it has.")
    products = [part.product for part in mix.parts.all()]
    use = TankUse(
        machine=machine,
        tank=tank,
        held=[product.name for product in products],
        kills_turf=any(product.kills_turf for product in products),
        mixed_at=at,
        mixed_by=person,
    )
    use.full_clean()
    use.save()
    return use


@transaction.atomic
def confirm_rinse(use: TankUse, *, person: Person, at: datetime, how: str) -> TankUse:
    """Let a person stand for it that a tank was rinsed. Refused where that is told already."""
    held = TankUse.objects.select_for_update().get(pk=use.pk)
    if held.rinsed_at is not None:
        raise Refused(
            "how",
            f"{held.rinsed_by_name} has confirmed already that this tank was rinsed.",
            "Record what it held since, if anything.",
        )
    held.rinsed_at, held.rinsed_by, held.rinsed_how = at, person, how
    held.rinsed_by_name = person.name
    held.full_clean()
    held.save()
    return held
