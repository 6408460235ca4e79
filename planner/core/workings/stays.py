"""How it came about what is mixed besides the finished spray."""

from collections.abc import Iterator, Sequence
from math import fsum

from planner.core.amounts.parts import Part
from planner.core.shown import Shown
from planner.core.workings.terms import summed
from properties.core.working import Figure, Input

SOURCE = (
    "Our own derivation: what stays in the sump and the hose of each tank that is used is mixed "
    "once, as strong as the rest."
)


def stays_figures(parts: Sequence[Part], *, shown: Shown) -> Iterator[Figure]:
    """Derive what stays in the tanks, and all that is mixed.

    Parameters
    ----------
    parts : Sequence[Part]
        The parts of a plan. [L]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Iterator[Figure]
        The derivations; none where nothing stays. [units shown]

    Raises
    ------
    Nothing
        Every figure has a derivation.

    References
    ----------
    Each derivation names its own.
    """
    fills = [load.fill for part in parts for load in part.loads if load.fill.stays_l]
    if not fills:
        return
    terms = tuple(Input(f"load {fill.number}", shown.spray_of(fill.stays_l)) for fill in fills)
    stays = shown.spray_of(fsum(fill.stays_l for fill in fills))
    name = "Spray that stays in the tanks"
    yield Figure("stays_in_tanks", name, summed(terms), terms, stays, SOURCE)
    spray = Input("finished spray", shown.spray_of(fsum(part.carrier_l for part in parts)))
    rest = Input("stays in the tanks", stays)
    yield Figure(
        "mixed_volume",
        "All that is mixed",
        f"{spray.name} + {rest.name}",
        (spray, rest),
        shown.spray_of(fsum(part.mixed_l for part in parts)),
        SOURCE,
    )
