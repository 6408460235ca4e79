"""How the account of the turf adds up."""

import math
from collections.abc import Iterator, Sequence

from planner.core.ground.accounting import Share
from planner.core.shown import Shown
from planner.core.workings.areas import PARTS_SOURCE
from planner.core.workings.terms import summed
from properties.core.working import Figure, Input


def accounting_figures(shares: Sequence[Share], *, shown: Shown) -> Iterator[Figure]:
    """Derive each share of the turf, and their sum.

    Parameters
    ----------
    shares : Sequence[Share]
        The shares. [m²]
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
    terms = tuple(
        Input(f"share {number}", shown.area_of(share.area_m2))
        for number, share in enumerate(shares, start=1)
    )
    for number, (share, term) in enumerate(zip(shares, terms, strict=True)):
        yield Figure(
            f"accounting.shares[{number}].area",
            f"Turf, measured in the plane and enlarged by its slope: {share.reason}",
            term.name,
            (term,),
            term.quantity,
            PARTS_SOURCE,
        )
    yield Figure(
        "accounting.turf_area",
        "All the turf, share by share",
        summed(terms),
        terms,
        shown.area_of(math.fsum(share.area_m2 for share in shares)),
        PARTS_SOURCE,
    )
