"""What ground will have had once the job is done, and when it opens after that.

Amounts in L or kg per m².
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from planner.core.label.labels import Form
from planner.core.limits.calendar import first_open_day
from planner.core.limits.ceilings import Ceiling
from planner.core.limits.faces import Face, Mixed, closures_of
from planner.core.limits.standing import standing_of
from planner.core.past import PastApplication
from properties.core.units import Quantity

_UNITS = {Form.LIQUID: "L/m2", Form.DRY: "kg/m2"}


@dataclass(frozen=True)
class After:
    """Where a face stands against one limit after the job.

    ``added`` is what the job brings, ``open_on`` the day on which the mix may be put down
    there again; None where no day is known.
    """

    added: float
    received: float | None
    room: float | None
    open_on: date | None


def after_the_job(
    face: Face, ceilings: Sequence[Ceiling], rates: Mapping[str, float], asked: Mixed
) -> tuple[After, ...]:
    """Work out where a face stands after the job, limit by limit.

    Parameters
    ----------
    face : Face
        Ground that is sprayed. [m]
    ceilings : Sequence[Ceiling]
        The limits. [-]
    rates : Mapping of str to float
        The most of each product that the ground gets. [L or kg/m²]
    asked : Mixed
        The mix, the past and the day. [-]

    Returns
    -------
    tuple[After, ...]
        One for each limit. [L or kg/m²]

    Raises
    ------
    Nothing
        What nobody knows is None.

    References
    ----------
    See ``standing_of``: the job is one more application.
    """
    new = [
        PastApplication(
            product.name,
            asked.day,
            product.name,
            Quantity(rates[product.name], _UNITS[product.kind.form]),
            face.geometry,
            product.contents,
        )
        for product in asked.products
    ]
    had = (*face.applications, *new)
    day = first_open_day(
        lambda on: tuple(closures_of(ceilings, had, face.seedings, asked=asked, on=on)),
        on=asked.day,
    )
    found = []
    for ceiling in ceilings:
        standing = standing_of(ceiling, had, on=asked.day)
        added = ceiling.amount_from(rates)
        found.append(After(added, standing.received, standing.room, day if asked.on else None))
    return tuple(found)
