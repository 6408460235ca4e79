"""How far the figures of a plan may be off because corners are not quite where they were drawn.

Areas in m², volumes in L, weights in kg.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planner.core.amounts.output_band import Joined, OutputBand, output_band
from planner.core.amounts.parts import Part
from planner.core.ground.borders import Border, Borders, borders_of
from planner.core.ground.ground import Ground, called
from planner.core.placing import Placing
from planner.core.shown import listed
from properties.core.accuracy import SIGMAS_OF_95_PERCENT, corners_of
from properties.core.features import Role
from properties.core.outlines import Shape
from properties.core.plane import DUST_M2
from properties.core.remeasuring import Remeasuring, halving_edges
from properties.core.units import Quantity

#: What to measure again is looked for among so many corners of turf.
MOST_CORNERS = 1_000


@dataclass(frozen=True)
class Deviation:
    """What the corners of one shape add: a standard deviation of each figure."""

    shape: Shape
    area_m2: float
    carrier_l: float
    products: tuple[float, ...]


@dataclass(frozen=True)
class Again:
    """What to measure again, and how well."""

    error: Quantity
    remeasuring: Remeasuring


@dataclass(frozen=True)
class Uncertainty:
    """The standard deviations of a plan's figures shape by shape, the largest first.

    ``not_counted`` are features beside the turf whose own error nobody knows. ``again``
    is None where nobody says how well a corner can be measured again, ``output`` where nobody
    can tell how well an output is known.
    """

    treatable_m2: float
    deviations: tuple[Deviation, ...]
    not_counted: tuple[Shape, ...]
    again: Again | None
    output: OutputBand | None = None

    @property
    def area_m2(self) -> float:
        """The treatable area is within this 95 times in 100."""
        return half_width([each.area_m2 for each in self.deviations])

    @property
    def share(self) -> float:
        """The same as a share of the treatable area."""
        return self.area_m2 / self.treatable_m2

    @property
    def carrier_l(self) -> float:
        """The finished spray is within this 95 times in 100."""
        return half_width([each.carrier_l for each in self.deviations])

    def of_product(self, position: int) -> float:
        """The amount of a product is within this 95 times in 100."""
        return half_width([each.products[position] for each in self.deviations])

    @property
    def carrier_with_output(self) -> Joined | None:
        """The same with what nobody knows of the outputs."""
        band = self.output
        deviation_l = math.hypot(*(each.carrier_l for each in self.deviations))
        return None if band is None else band.joined_with(deviation_l, band.carriers_l)

    def of_product_with_output(self, position: int) -> Joined | None:
        """The same with what nobody knows of the outputs."""
        band = self.output
        deviation = math.hypot(*(each.products[position] for each in self.deviations))
        return None if band is None else band.joined_with(deviation, band.products(position))

    def variance_share(self, deviation: Deviation) -> float:
        """How much of the variance of the area comes from one shape."""
        variance_m4 = math.fsum(each.area_m2**2 for each in self.deviations)
        return deviation.area_m2**2 / variance_m4


@dataclass(frozen=True)
class ErrorBar:
    """How far the figures may be off, or why nobody can tell."""

    uncertainty: Uncertainty | None
    why_not: str = ""


def half_width(deviations: Sequence[float]) -> float:
    """Join standard deviations that do not depend on one another, and take 95 %.

    Parameters
    ----------
    deviations : Sequence of float
        The standard deviations. [any unit]

    Returns
    -------
    float
        Half the width of the band. [as the deviations]

    Raises
    ------
    Nothing
        Any deviations can be joined.

    References
    ----------
    NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.1: 95 of 100 lie
    within 1.96 standard deviations. Variances of independent errors add.
    """
    return SIGMAS_OF_95_PERCENT * math.hypot(*deviations)


def error_bar(ground: Ground, parts: Sequence[Part], placing: Placing) -> ErrorBar:
    """Work out how far the treatable area, the spray and the products may be off.

    Parameters
    ----------
    ground : Ground
        The ground of a plan. [m²]
    parts : Sequence[Part]
        What each tool sprays. [L or kg]
    placing : Placing
        How far corners may be out. [m]

    Returns
    -------
    ErrorBar
        The deviations, or why there are none. [m², L or kg]

    Raises
    ------
    Nothing
        What is not known is said.

    References
    ----------
    See ``treatable_spread`` and ``halving_edges``.
    """
    turf = _turf(ground)
    unknown = [called(shape) for shape in turf if placing.error_of(shape) is None]
    if unknown:
        return ErrorBar(
            None,
            f"Nobody says how far the corners of {listed(unknown)} may be out, and unknown is not "
            "zero. Tell how each was measured, or its position error.",
        )
    treatable_m2 = ground.treatment.treatable_area_m2
    if treatable_m2 <= DUST_M2:
        return ErrorBar(None, "No ground is left whose area could be off.")
    borders = borders_of(ground, turf, placing)
    deviations = [_deviation(border, parts) for border in borders.counted]
    counted = [each for each in deviations if each.area_m2 or each.carrier_l]
    return ErrorBar(
        Uncertainty(
            treatable_m2,
            tuple(sorted(counted, key=lambda each: -each.area_m2)),
            borders.without_error,
            _again(borders, placing.better),
            output_band(parts),
        )
    )


def _turf(ground: Ground) -> list[Shape]:
    """The turf that some tool may enter with this mix."""
    barred = set.intersection(*({each.shape.ref for each in tool.barred} for tool in ground.tools))
    barred |= {each.shape.ref for each in ground.spared}
    return [shape for shape in ground.drawing.of_role(Role.TURF) if shape.ref not in barred]


def _deviation(border: Border, parts: Sequence[Part]) -> Deviation:
    by_product = zip(*(part.totals for part in parts), strict=True)
    return Deviation(
        border.shape,
        area_m2=border.deviation_of([1.0 for _ in parts]),
        carrier_l=border.deviation_of([_per_m2(part, part.carrier_l) for part in parts]),
        products=tuple(
            border.deviation_of(
                [_per_m2(part, total.amount) for part, total in zip(parts, totals, strict=True)]
            )
            for totals in by_product
        ),
    )


def _per_m2(part: Part, amount: float) -> float:
    return amount / part.area_m2 if part.area_m2 else 0.0


def _again(borders: Borders, better: Quantity | None) -> Again | None:
    """What to measure again; nothing where the outlines have very many corners."""
    if better is None:
        return None
    corners = sum(
        len(ring)
        for lawn in borders.turf
        for ring in corners_of(lawn.outline, sigma_m=lawn.position.sigma_m)
    )
    if corners > MOST_CORNERS:
        return None
    # As all errors here, the better one counts with the slope; with the steepest it is never
    # taken for better than it is.
    remeasuring = halving_edges(
        borders.turf, borders.removed, sigma_better_m=better.si * borders.steepest
    )
    return Again(better, remeasuring)
