"""Which turf a mix may go on: every lawn is judged by the turfgrasses that grow in it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.core.label.facts import Tolerance
from planner.core.machine.barred import Barred
from planner.core.mix.products import Product
from planner.core.shown import listed
from properties.core.features import Role
from properties.core.outlines import Drawing, Shape
from properties.core.turfgrasses import TURFGRASSES


@dataclass(frozen=True)
class Stand:
    """Turf in which the same turfgrasses grow, none where nobody told.

    ``lawns`` names it where several stands are told apart; else it is all the turf.
    """

    turfgrasses: tuple[str, ...] = ()
    lawns: tuple[str, ...] = ()

    @property
    def here(self) -> str:
        """Where it is, for the end of a sentence."""
        return f"on {listed(list(self.lawns))}" if self.lawns else "here"


def has_own_turf(drawing: Drawing) -> bool:
    """Whether some lawn of a drawing tells its own turfgrasses.

    Parameters
    ----------
    drawing : Drawing
        What is drawn. [-]

    Returns
    -------
    bool
        True where one does. [-]

    Raises
    ------
    Nothing
        Any drawing will do.

    References
    ----------
    Our own rule.
    """
    return any(shape.turfgrasses for shape in drawing.of_role(Role.TURF))


def spared_turf(
    drawing: Drawing, products: Sequence[Product], *, told: Sequence[str]
) -> tuple[Barred, ...]:
    """Find the lawns that a mix is kept from, as one of its products is not for what grows there.

    Parameters
    ----------
    drawing : Drawing
        What is drawn. [-]
    products : Sequence[Product]
        The mix. [-]
    told : Sequence[str]
        What grows where a lawn does not tell its own. [-]

    Returns
    -------
    tuple[Barred, ...]
        The lawns, each with its reasons; none where it would be all of them, for then
        the mix is the wrong one and is refused. [-]

    Raises
    ------
    Nothing
        Turf that nobody knows is not left out; it is warned of.

    References
    ----------
    The labels themselves. A mixed stand is judged by the turfgrass that stands the least.
    """
    lawns = drawing.of_role(Role.TURF)
    spared = []
    for shape in lawns:
        reasons = [
            reason
            for product in products
            for reason in _against(product, shape.turfgrasses or tuple(told))
        ]
        if reasons:
            spared.append(Barred(shape, "; ".join(reasons)))
    return () if len(spared) == len(lawns) else tuple(spared)


def stands_in(
    drawing: Drawing, *, told: Sequence[str], spared: Sequence[Barred] = ()
) -> tuple[Stand, ...]:
    """Tell the stands of a place apart, without the lawns that are left out.

    Parameters
    ----------
    drawing : Drawing
        What is drawn. [-]
    told : Sequence[str]
        What grows where a lawn does not tell its own. [-]
    spared : Sequence[Barred]
        Lawns that the mix is kept from. [-]

    Returns
    -------
    tuple[Stand, ...]
        One for all the turf where no lawn tells its own. [-]

    Raises
    ------
    Nothing
        Any drawing will do.

    References
    ----------
    Our own rule: turf that nobody told is unknown.
    """
    if not has_own_turf(drawing):
        return (Stand(tuple(told)),)
    left_out = {each.shape.ref for each in spared}
    names: dict[tuple[str, ...], list[str]] = {}
    for shape in drawing.of_role(Role.TURF):
        if shape.ref not in left_out:
            names.setdefault(shape.turfgrasses or tuple(told), []).append(_called(shape))
    return tuple(Stand(grasses, tuple(lawns)) for grasses, lawns in names.items())


def _against(product: Product, grasses: Sequence[str]) -> Iterator[str]:
    conditions = product.label.conditions
    for word in grasses:
        name = TURFGRASSES[word]
        if conditions.tolerance.get(word) is Tolerance.FORBIDDEN:
            yield f"the label of {product.name} forbids it on {name}"
        elif conditions.turf not in (None, word):
            line = TURFGRASSES[str(conditions.turf)]
            yield f"this line of the label of {product.name} is for {line}, not for {name}"


def _called(shape: Shape) -> str:
    return shape.name or shape.ref
