"""What one tool's mix would do in another tool. Rates are L or kg per m² or L.

A mix is made for the output of one tool. Another tool with another output puts down
another amount of product with it: concentration × output, where it is most.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

from planner.core.amounts.parts import Part
from planner.core.findings import Finding, Findings
from planner.core.mix.portions import Total
from planner.core.mix.products import Product
from planner.core.shown import Shown, listed, said

_DIGITS = 3


@dataclass(frozen=True)
class Crossed:
    """The rate that a product would have, and whether the label allows it, if known."""

    product: Product
    mixed: float
    rate: float

    @property
    def allowed(self) -> bool | None:
        """Whether the label allows the rate, None where nobody knows."""
        return self.product.allows(self.rate)

    @property
    def must_be_told(self) -> bool:
        """Whether it speaks against the use: a rate per spray is the same in every tool."""
        return self.allowed is False or (self.allowed is None and self.product.by_area)


@dataclass(frozen=True)
class CrossUse:
    """The mix of one part, put into the tool of another."""

    mix_of: Part
    used_in: Part
    products: tuple[Crossed, ...]

    @property
    def allowed(self) -> bool | None:
        """Whether every label allows it, None where nobody knows."""
        verdicts = [crossed.allowed for crossed in self.products if crossed.must_be_told]
        if False in verdicts:
            return False
        return None if verdicts else True


def cross_uses(parts: Sequence[Part]) -> tuple[CrossUse, ...]:
    """Put each part's mix into every other part's tool.

    Parameters
    ----------
    parts : Sequence[Part]
        The parts of a plan. [-]

    Returns
    -------
    tuple[CrossUse, ...]
        One for each pair in each order, where there is a mix; none for a single tool. [-]

    Raises
    ------
    Nothing
        A part without spray has no mix.

    References
    ----------
    University of Georgia, Waltz and Murphy, Calibrate sprayer: rate = share × output.
    """
    pairs = permutations(parts, 2)
    return tuple(_cross_use(mix_of, used_in) for mix_of, used_in in pairs if mix_of.carrier_l)


def _cross_use(mix_of: Part, used_in: Part) -> CrossUse:
    products = tuple(_crossed(total, mix_of, used_in) for total in mix_of.totals)
    return CrossUse(mix_of, used_in, products)


def _crossed(total: Total, mix_of: Part, used_in: Part) -> Crossed:
    mixed = total.mixed
    per_l = mixed / mix_of.mixed_l
    most = used_in.l_per_rated_m2 * used_in.most_times
    rate = per_l * most if total.product.by_area else per_l
    return Crossed(total.product, mixed, rate)


def cross_findings(uses: Sequence[CrossUse], *, shown: Shown) -> Findings:
    """Warn of every mix that another tool must not spray.

    Parameters
    ----------
    uses : Sequence[CrossUse]
        Each mix in each other tool. [-]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        A warning for each that the labels do not allow for certain. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The labels; a range that nobody copied is unknown, not unlimited.
    """
    return Findings(tuple(_never(use, shown) for use in uses if use.allowed is not True))


def _never(use: CrossUse, shown: Shown) -> Finding:
    gives = [_gives(crossed, shown) for crossed in use.products if crossed.must_be_told]
    message = (
        f"Never put the {use.mix_of.tool.words}’s mix into the {use.used_in.tool.words}: it would "
        f"give {listed(gives)}. Mix for each tool by its own loads."
    )
    return Finding("mix_not_for_other_tool", message, tool=use.used_in.tool)


def _gives(crossed: Crossed, shown: Shown) -> str:
    product, limits = crossed.product, crossed.product.label.rate
    if limits.exceeded_by(crossed.rate):
        limit = f"label maximum {limits.highest}"
    elif limits.undercut_by(crossed.rate):
        limit = f"label minimum {limits.lowest}"
    else:
        limit = "the label’s range is not known here"
    rate = said(shown.rate_of(product.rate, crossed.rate), digits=_DIGITS)
    return f"{rate} of {product.name} ({limit})"
