"""Finished spray, product amounts, water to add.

Areas in m², volumes in L, outputs in L/m². Amounts of product are L or kg, as
their rates are per m² of ground or per L of finished spray.
"""

import math
from collections.abc import Iterable


def finished_spray_l(*, area_m2: float, output_l_per_m2: float) -> float:
    """Finished spray for an area: everything that leaves the nozzles, products included.

    Parameters
    ----------
    area_m2 : float
        Ground to be sprayed, ≥ 0. [m²]
    output_l_per_m2 : float
        Calibrated output, > 0. [L/m²]

    Returns
    -------
    float
        Volume of finished spray. [L]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Agrochemical and Pesticide Safety Handbook (CRC Press), dilution chapter,
    examples 4 and 5: mix = output times area.
    """
    return area_m2 * output_l_per_m2


def area_sprayed_m2(*, spray_l: float, output_l_per_m2: float) -> float:
    """Ground that a volume of finished spray is enough for.

    Parameters
    ----------
    spray_l : float
        Finished spray, ≥ 0. [L]
    output_l_per_m2 : float
        Calibrated output, > 0. [L/m²]

    Returns
    -------
    float
        Area. [m²]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Mesa County (Colorado) Weed & Pest, How to Calibrate a Handgun: area per
    tank = tank / output.
    """
    return spray_l / output_l_per_m2


def product_amount(*, rate: float, extent: float) -> float:
    """Product for a ground or for a volume of spray, whichever its rate is given for.

    Holds in any consistent units.

    Parameters
    ----------
    rate : float
        Product per area, or per volume of finished spray, > 0. [L or kg per m² or L]
    extent : float
        That area or that volume, ≥ 0. [m² or L]

    Returns
    -------
    float
        Amount of product. [L or kg]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Agrochemical and Pesticide Safety Handbook (CRC Press), dilution chapter,
    examples 4 and 5: product = rate times area.
    """
    return rate * extent


def water_to_add_l(*, spray_l: float, liquids_l: Iterable[float]) -> float:
    """Water for a load: the finished spray less the liquid products in it.

    Dry products dissolve in little more room than they leave; that is ignored.

    Parameters
    ----------
    spray_l : float
        Finished spray of the load, ≥ 0. [L]
    liquids_l : Iterable[float]
        Volume of each liquid product in the load. [L]

    Returns
    -------
    float
        Water to add. Negative if the products alone are more than the load. [L]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Common practice.
    """
    return math.fsum([spray_l, *(-liquid_l for liquid_l in liquids_l)])
