"""Each face of the ground with what the job adds to it.

Areas in m², amounts in L or kg per m².
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.core.amounts.parts import Part
from planner.core.amounts.planned import Planned
from planner.core.limits import Face, Standing
from planner.core.limits.after import After, after_the_job
from planner.core.limits.faces import Mixed
from planner.core.mix.portions import Total
from properties.core.plane import DUST_M2


@dataclass(frozen=True)
class FaceAccount:
    """A face, its area, and what it has after the job; ``rates`` is None where it is closed.

    ``after`` follows the limits, and is empty for closed ground. ``is_known`` is false
    where nobody has told what the place has had: then it is not nothing, but unknown.
    """

    face: Face
    area_m2: float
    rates: dict[str, float] | None
    after: tuple[After, ...]
    is_known: bool = True

    def against(self, position: int) -> tuple[Standing, After | None]:
        """Where it stands against one of the limits, before and after."""
        standing = self.face.standings[position]
        after = self.after[position] if self.after else None
        if self.is_known:
            return standing, after
        return (
            replace(standing, received=None, room=None),
            after and replace(after, received=None, room=None),
        )


def limit_account(planned: Planned) -> tuple[FaceAccount, ...]:
    """Work out what every face of the ground gets from the job.

    Parameters
    ----------
    planned : Planned
        The figures. [-]

    Returns
    -------
    tuple[FaceAccount, ...]
        One for each face, in their order. [m² and L or kg/m²]

    Raises
    ------
    Nothing
        Ground without limits has no faces.

    References
    ----------
    Our own rule: of several loads, the strongest counts.
    """
    request, ground = planned.request, planned.ground
    asked = Mixed(request.products, request.past, request.on)
    is_known = request.past.history is not None
    told = []
    for face in ground.faces.faces:
        rates = _rates(face, planned.parts) if face.is_open else None
        after = () if rates is None else after_the_job(face, ground.faces.ceilings, rates, asked)
        area_m2 = ground.treatment.area_of(face.geometry)
        told.append(FaceAccount(face, area_m2, rates, after, is_known=is_known))
    return tuple(told)


def _rates(face: Face, parts: Sequence[Part]) -> dict[str, float]:
    """The most of each product that any tool puts down there."""
    here = [part for part in parts if face.geometry.intersection(part.ground.ground).area > DUST_M2]
    names = [total.product.name for total in parts[0].totals]
    return {
        name: max(
            (_times(face, part) * _rate(part.totals[position], part) for part in here),
            default=0.0,
        )
        for position, name in enumerate(names)
    }


def _times(face: Face, part: Part) -> float:
    """How many times as much as on level ground comes down on a face at most."""
    over = [slope for slope in part.slopes if slope.is_other]
    here = [each for each in over if each.ground.intersection(face.geometry).area > DUST_M2]
    return max((1.0, *(slope.counted for slope in here)))


def _rate(total: Total, part: Part) -> float:
    """The strongest of the loads, or all passes of a spreader, per area of ground."""
    asked = total.product.rate.si
    if part.spread is not None:
        return total.rate_after_rounding() or asked
    after_rounding = (portion.rate_after_rounding for portion in total.portions)
    rates = [asked if rate is None else rate for rate in after_rounding]
    per_area = 1.0 if total.product.by_area else part.l_per_rated_m2
    return per_area * max(rates, default=asked)
