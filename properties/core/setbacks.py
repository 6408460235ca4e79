"""Which distance is kept from a protected feature, and who asked for it.

Several parties may ask for a distance from one feature: the person who marked
it, the label, the firm. The strictest wins. A distance that nobody gave is
unknown, which is not zero.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from properties.core.features import Role
from properties.core.outlines import Drawing, Shape
from properties.core.treatable import Setback
from properties.core.units import Quantity

NOBODY_KNOWS = "No distance is known for this feature: set one from the label or the local rule."


@dataclass(frozen=True)
class Claim:
    """A distance that somebody asks for, and on what ground; an example, or a rule."""

    distance: Quantity
    reason: str
    example: bool = False


def strictest(claims: Iterable[Claim]) -> Claim | None:
    """Pick the claim with the largest distance; of equals, the first.

    Parameters
    ----------
    claims : Iterable[Claim]
        What is asked for, in the order of their standing. [-]

    Returns
    -------
    Claim or None
        The claim that decides, or None where nobody asked. [-]

    Raises
    ------
    Nothing
        Any claims can be compared.

    References
    ----------
    Our own rule: the safe side is the default.
    """
    return max(claims, key=lambda claim: claim.distance.si, default=None)


def own_claim(shape: Shape) -> Claim | None:
    """Say what was asked for on the feature itself.

    Parameters
    ----------
    shape : Shape
        A shape of a drawing. [-]

    Returns
    -------
    Claim or None
        Its own distance, or None where none was set. [-]

    Raises
    ------
    Nothing
        A shape without a distance makes no claim.

    References
    ----------
    Our own rule.
    """
    return None if shape.setback is None else Claim(shape.setback, "set on this feature")


def setbacks_by_default(drawing: Drawing, defaults: Mapping[str, Claim]) -> dict[str, Setback]:
    """Decide every distance from the features themselves, else from a table by kind.

    Parameters
    ----------
    drawing : Drawing
        What is drawn. [-]
    defaults : Mapping[str, Claim]
        A claim for a kind of feature where the feature itself has none. [-]

    Returns
    -------
    dict[str, Setback]
        The distance by the ref of each shape that must be kept away from. [m]

    Raises
    ------
    Nothing
        An unknown distance is told in its reason, with the feature alone kept out.

    References
    ----------
    Our own rule.
    """
    decided = {}
    for shape in drawing.shapes:
        claim = own_claim(shape)
        if claim is None and shape.kind.role is Role.PROTECTED:
            claim = defaults.get(shape.kind.token)
        if claim is not None:
            decided[shape.ref] = Setback(claim.distance.si, claim.reason)
        elif shape.kind.role is Role.PROTECTED:
            decided[shape.ref] = Setback(0.0, NOBODY_KNOWS)
    return decided
