"""How the output and the finished spray of a plan came about."""

from collections.abc import Iterator

from planner.core.amounts.parts import Part
from planner.core.shown import Shown
from planner.core.workings.calibration import calibration_figures
from planner.core.workings.slopes import level_ground
from properties.core.working import Figure, Input

FINISHED_SPRAY_SOURCE = (
    "Agrochemical and Pesticide Safety Handbook (CRC Press), dilution chapter, examples 4 and 5: "
    "mix = output × area."
)


def output_figures(part: Part, *, shown: Shown) -> Iterator[Figure]:
    """Derive the output of a tool, and how its runs vary.

    Parameters
    ----------
    part : Part
        The part. [-]
    shown : Shown
        The units to show. [-]

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
    swath = part.sprayer.swath
    return calibration_figures(part.sprayer.calibration, part.output, swath=swath, shown=shown)


def carrier_figure(part: Part, *, shown: Shown) -> Figure:
    """Derive the finished spray of a part.

    Parameters
    ----------
    part : Part
        The part. [-]
    shown : Shown
        The units to show. [-]

    Returns
    -------
    Figure
        The derivation. [units shown]

    Raises
    ------
    Nothing
        It always has one.

    References
    ----------
    Each derivation names its own.
    """
    area = level_ground([part], shown=shown)
    output = Input("output", shown.output_of(part.output.l_per_m2))
    return Figure(
        "carrier_volume",
        "Finished spray, products included",
        f"{area.name} × output / {shown.per_area}",
        (area, output),
        shown.spray_of(part.carrier_l),
        FINISHED_SPRAY_SOURCE,
    )
