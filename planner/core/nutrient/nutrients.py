"""What a fertilizer holds: its grade, the slow share of its nitrogen, and rates of nutrients.

Shares are fractions of the product's weight. A grade counts phosphorus and potassium as
oxides, P2O5 and K2O; as such they weigh less. Rates are kg/m².
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from properties.core.units import Quantity

# Standard atomic weights, abridged to five digits (IUPAC Commission on Isotopic Abundances and
# Atomic Weights, 2021).
_P, _K, _O = 30.974, 39.098, 15.999
#: Phosphorus in P2O5 and potassium in K2O, by weight: 0.4364 and 0.8301.
P_IN_P2O5 = 2 * _P / (2 * _P + 5 * _O)
K_IN_K2O = 2 * _K / (2 * _K + _O)


class Nutrient(StrEnum):
    """What a plant takes up, as a label or a law counts it."""

    N = "N"
    SOLUBLE_N = "soluble N"
    P2O5 = "P2O5"
    K2O = "K2O"
    P = "P"
    K = "K"


@dataclass(frozen=True)
class Grade:
    """Nitrogen, phosphate and potash by weight, in percent as a bag has them."""

    n: float
    p2o5: float
    k2o: float

    def __str__(self) -> str:
        return "-".join(f"{number:.10g}" for number in (self.n, self.p2o5, self.k2o))


@dataclass(frozen=True)
class Fertilizer:
    """What a bag or a jug of fertilizer says of itself.

    ``slow_release`` is the share of the nitrogen that is released slowly, None where
    nobody copied it.
    """

    grade: Grade
    slow_release: Quantity | None = None
    bag: Quantity | None = None

    def share_of(self, nutrient: Nutrient) -> float | None:
        """How much of the product's weight is a nutrient; None where nobody knows."""
        grade = self.grade
        if nutrient is Nutrient.SOLUBLE_N:
            slow = self.slow_release
            if grade.n and slow is None:
                return None
            return grade.n / 100 * (1 - (slow.si if slow else 0.0))
        percent = {
            Nutrient.N: grade.n,
            Nutrient.P2O5: grade.p2o5,
            Nutrient.K2O: grade.k2o,
            Nutrient.P: grade.p2o5 * P_IN_P2O5,
            Nutrient.K: grade.k2o * K_IN_K2O,
        }
        return percent[nutrient] / 100


def nutrient_rate(
    *, product_rate: float, fertilizer: Fertilizer, nutrient: Nutrient
) -> float | None:
    """Nutrient that a rate of a product puts down.

    Parameters
    ----------
    product_rate : float
        Product per area, ≥ 0. [kg/m²]
    fertilizer : Fertilizer
        What the product holds. [-]
    nutrient : Nutrient
        Which nutrient is asked for. [-]

    Returns
    -------
    float or None
        Nutrient per area, None where its share is not known. [kg/m²]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Cornell Cooperative Extension of Suffolk County, calculations for fertilizer
    applications: nutrient = product × percent / 100. Soluble N is N less its slow share.
    """
    share = fertilizer.share_of(nutrient)
    return None if share is None else product_rate * share


def product_rate_for(*, target: float, fertilizer: Fertilizer, nutrient: Nutrient) -> float | None:
    """Product that puts down a rate of a nutrient.

    Parameters
    ----------
    target : float
        Nutrient per area, ≥ 0. [kg/m²]
    fertilizer : Fertilizer
        What the product holds. [-]
    nutrient : Nutrient
        Which nutrient is meant. [-]

    Returns
    -------
    float or None
        Product per area, None where it holds none of the nutrient or nobody knows.
        [kg/m²]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    UMass Extension Turf Program, Rotary Spreader Calibration Procedures: product =
    nutrient / fraction.
    """
    share = fertilizer.share_of(nutrient)
    return target / share if share else None


def added_nutrients(
    contents: Iterable[tuple[float, Fertilizer]],
) -> Mapping[Nutrient, float | None]:
    """Add up every nutrient that several products put down on the same ground.

    Parameters
    ----------
    contents : Iterable of tuple
        The rate of each product per area, and what it holds. [kg/m²]

    Returns
    -------
    Mapping of Nutrient to float or None
        Each nutrient per area, None where one product's share is not known. [kg/m²]

    Raises
    ------
    Nothing
        The arguments were checked at the door.

    References
    ----------
    Our own derivation: weights on the same ground add; unknown is not zero.
    """
    contents = tuple(contents)
    added: dict[Nutrient, float | None] = {}
    for nutrient in Nutrient:
        rates = [
            nutrient_rate(product_rate=rate, fertilizer=fertilizer, nutrient=nutrient)
            for rate, fertilizer in contents
        ]
        known = [rate for rate in rates if rate is not None]
        added[nutrient] = sum(known) if len(known) == len(rates) else None
    return added
