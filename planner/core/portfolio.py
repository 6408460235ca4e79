"""One quote for many lots: what each pays for itself, and its share of the common areas.

Money is ``Decimal``; every share is to the cent, and the lots together pay the whole.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from planner.core.money import shared_out
from planner.core.pricing.figures import Derived, MoneyFigure, Told, line, summed
from properties.core.errors import Refused

SHARE_SOURCE = (
    "Cut to the cent; the cents left over go to the lots that lost most, so that all shares "
    "together are the whole (largest remainder)."
)
ZERO = Decimal("0.00")


class Sharing(StrEnum):
    """By what the lots share what common areas cost."""

    EQUAL = "equal"
    AREA = "area"
    GIVEN = "given"


@dataclass(frozen=True)
class Asked:
    """What is asked for one property: its price before tax, the tax, and its area."""

    name: str
    net: Decimal
    tax: Decimal
    area: Decimal
    #: Its share of what is common, where shares are given.
    share: Decimal | None = None


@dataclass(frozen=True)
class LotPays:
    """What one lot pays: its own price, its share of each common area, the tax of both."""

    lot: Asked
    of_commons: tuple[Decimal, ...]
    tax_of_commons: tuple[Decimal, ...]
    figures: tuple[MoneyFigure, ...]

    @property
    def common_net(self) -> Decimal:
        """Its share of all common areas, before tax."""
        return sum(self.of_commons, ZERO)

    @property
    def net(self) -> Decimal:
        """All before tax."""
        return self.lot.net + self.common_net

    @property
    def tax(self) -> Decimal:
        """All tax."""
        return self.lot.tax + sum(self.tax_of_commons, ZERO)

    @property
    def total(self) -> Decimal:
        """What the lot pays."""
        return self.net + self.tax


@dataclass(frozen=True)
class SharedPortfolio:
    """What every lot pays. Together that is the price of all lots and common areas."""

    lots: tuple[LotPays, ...]

    @property
    def net(self) -> Decimal:
        """All before tax."""
        return sum((lot.net for lot in self.lots), ZERO)

    @property
    def tax(self) -> Decimal:
        """All tax."""
        return sum((lot.tax for lot in self.lots), ZERO)

    @property
    def total(self) -> Decimal:
        """All that is paid."""
        return self.net + self.tax


def share_commons(
    lots: Sequence[Asked], commons: Sequence[Asked], *, sharing: Sharing, currency: str
) -> SharedPortfolio:
    """Share what common areas cost among the lots.

    Parameters
    ----------
    lots : sequence of Asked
        The lots, at least one. [currency]
    commons : sequence of Asked
        The common areas; there may be none. [currency]
    sharing : Sharing
        By equal parts, by the area of each lot, or by given shares. [-]
    currency : str
        The three letters of the currency, for the working. [-]

    Returns
    -------
    SharedPortfolio
        What each lot pays, in the order given. [currency]

    Raises
    ------
    Refused
        If there is no lot, or nobody to bear a share.

    References
    ----------
    ``planner.core.money.shared_out``: the method of the largest remainder.
    """
    if not lots:
        raise Refused("lots", "There is no lot to pay.", "Add a lot that is no common area.")
    weights = _weights(lots, sharing)
    if not commons:
        shares = taxes = [()] * len(lots)
    else:
        shares = list(zip(*(shared_out(one.net, weights) for one in commons), strict=True))
        taxes = list(zip(*(shared_out(one.tax, weights) for one in commons), strict=True))
    return SharedPortfolio(
        tuple(
            LotPays(
                lot,
                shares[place],
                taxes[place],
                tuple(_figures(place, lot, shares[place], (commons, weights, currency))),
            )
            for place, lot in enumerate(lots)
        )
    )


def _weights(lots: Sequence[Asked], sharing: Sharing) -> list[Decimal]:
    if sharing is Sharing.EQUAL:
        return [Decimal(1)] * len(lots)
    if sharing is Sharing.AREA:
        return [lot.area for lot in lots]
    unknown = [lot.name for lot in lots if lot.share is None]
    if unknown:
        raise Refused(
            "share",
            f"{unknown[0]} has no share of what is common.",
            "Give one to each lot; 0 where it bears nothing.",
        )
    return [lot.share or Decimal(0) for lot in lots]


def _figures(
    place: int,
    lot: Asked,
    shares: tuple[Decimal, ...],
    common: tuple[Sequence[Asked], list[Decimal], str],
) -> list[MoneyFigure]:
    """Show how the shares of a lot came about, and what they come to with its own price."""
    commons, weights, currency = common
    terms = [Told("own price before tax", lot.net, currency)]
    figures = []
    for number, (one, share) in enumerate(zip(commons, shares, strict=True)):
        key, name = f"lots[{place}].commons[{number}]", f"Share of {one.name}"
        inputs = (
            Told("price of the common area", one.net, currency),
            Told("weight of the lot", weights[place]),
            Told("all weights", sum(weights, Decimal(0))),
        )
        formula = "price of the common area × weight of the lot / all weights"
        figures.append(
            line(key, name, share, currency, Derived(formula, inputs, SHARE_SOURCE)).figure
        )
        terms.append(Told(f"share {number + 1}", share, currency))
    net = sum((term.value for term in terms), ZERO)
    figures.append(
        line(
            f"lots[{place}].net",
            "Price before tax",
            net,
            currency,
            Derived(summed(terms), tuple(terms), "The lot’s own price and its shares."),
        ).figure
    )
    return figures
