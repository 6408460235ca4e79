"""Spots that are treated instead of all the turf, told where they are not drawn. Areas in m²."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.core.findings import Finding, Findings
from planner.core.label.facts import Use
from planner.core.label.labels import SAME_NUMBER
from planner.core.mix.products import Product
from planner.core.shown import Shown, said
from properties.core.units import Quantity, quantity_of_si


@dataclass(frozen=True)
class Spots:
    """All spots together, as an area or as a share of the open turf; or that they are drawn."""

    area: Quantity | None = None
    share: Quantity | None = None
    drawn: bool = False

    def share_of(self, ground_m2: float) -> float:
        """How much of some ground is spots, never more than all of it."""
        if self.share is not None:
            return self.share.si
        if self.area is None or not ground_m2:
            return 1.0
        return min(1.0, self.area.si / ground_m2)

    def are_more_than(self, ground_m2: float) -> bool:
        """Whether the area that was told is more than the ground."""
        return self.area is not None and self.area.si > ground_m2 * (1 + SAME_NUMBER)


def spot_findings(
    products: Sequence[Product], spots: Spots | None, *, ground_m2: float, shown: Shown
) -> Findings:
    """Hold what is told of spots against the ground and against what the labels allow.

    Parameters
    ----------
    products : Sequence[Product]
        The products of the mix. [-]
    spots : Spots or None
        The spots, None where nobody said. [-]
    ground_m2 : float
        All the ground that the plan treats. [m²]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        A refusal for each product for spots that would go over all the turf, and where the
        spots are more than the ground or than a label allows. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The labels themselves: a rate for spots is no rate for a whole lawn. Nobody can tell
    from a drawing whether its turf is a lawn or the spots.
    """
    refusals = []
    if spots is not None and spots.are_more_than(ground_m2):
        message = (
            f"The spots are told as {spots.area}, and only {said(shown.area_of(ground_m2))} are "
            "drawn and open. Measure the spots again, or draw the rest of the lawn."
        )
        refusals.append(Finding("spots_over_ground", message))
    for product in products:
        if product.label.conditions.use is Use.SPOT:
            refusals += _untold(product, spots, said(shown.area_of(ground_m2)))
            refusals += _too_much_of_it(product, spots, ground_m2)
    return Findings(refusals=tuple(refusals))


def _untold(product: Product, spots: Spots | None, ground: str) -> Iterator[Finding]:
    if spots is None and not product.label.conditions.spot_rate_over_all:
        message = (
            f"{product.name}: this line of the label is for spots, and the plan puts it on all "
            f"{ground} that are drawn and open. Tell how much the spots are in all, or say that "
            "what is drawn are the spots; never spray a whole lawn at a rate for spots."
        )
        yield Finding("spots_as_drawn", message, product=product.name)


def _too_much_of_it(product: Product, spots: Spots | None, ground_m2: float) -> Iterator[Finding]:
    most = product.label.conditions.spot_share_max
    if most is None:
        return
    if spots is not None and spots.drawn:
        return
    share = 1.0 if spots is None else spots.share_of(ground_m2)
    if share > most.si * (1 + SAME_NUMBER):
        here = said(quantity_of_si(share, "%"))
        message = (
            f"{product.name}: the label allows spots on {most} of a lawn at most, and this would "
            f"be {here}. Treat fewer spots, or choose a line of the label that is for all of the "
            "turf."
        )
        yield Finding("spots_over_share", message, product=product.name)
