"""Tax by place: rates that fall on the same part of the price are added and rounded once."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from planner.core.findings import Finding
from planner.core.money import shared_out, tax_of
from planner.core.pricing.figures import Derived, Line, Told, line, summed, total_of
from planner.core.pricing.visits import VisitPrice
from planner.core.pricing.work import Taxed, TaxRate, Work

TAX_SOURCE = (
    "Carried to the third decimal place, and up to the next cent where that is above four "
    "(Streamlined Sales and Use Tax Agreement, section 324). Rates on the same part of the price "
    "are added and rounded once, and the tax is shared among them to the cent."
)
TAXED_WORDS = {
    Taxed.EVERYTHING: "the whole price",
    Taxed.MATERIAL: "the material’s share of the price",
    Taxed.SERVICE: "the share of the price that is work",
}


def tax_lines(
    net: Decimal, visits: Sequence[VisitPrice], rates: Sequence[TaxRate], *, currency: str
) -> tuple[Line, ...]:
    """Work out every tax that falls on a price.

    Parameters
    ----------
    net : Decimal
        The price after discounts. [currency]
    visits : Sequence of VisitPrice
        The visits, whose costs tell the material’s share. [currency]
    rates : Sequence of TaxRate
        The rates that hold. [%]
    currency : str
        The three letters of the currency. [-]

    Returns
    -------
    tuple of Line
        A line for each rate. [currency]

    Raises
    ------
    Nothing
        Rates that were kept can be used.

    References
    ----------
    See ``tax_of``. That the material bears its share of the price in proportion to cost is our
    own rule: a place may have another, check yours.
    """
    taxed = _bases(net, visits)
    lines: list[Line] = []
    for part in Taxed:
        group = [rate for rate in rates if rate.taxed is part]
        lines += _of_group(taxed[part], group, start=len(lines), currency=currency)
    return tuple(lines)


def _bases(net: Decimal, visits: Sequence[VisitPrice]) -> dict[Taxed, Decimal]:
    material = sum((total_of(each.cost.material) for each in visits), Decimal(0))
    cost = sum((each.cost.total for each in visits), Decimal(0))
    weights = [material, cost - material] if cost else [Decimal(0), Decimal(1)]
    of_material, of_service = shared_out(net, weights)
    return {Taxed.EVERYTHING: net, Taxed.MATERIAL: of_material, Taxed.SERVICE: of_service}


def _of_group(
    base: Decimal, group: Sequence[TaxRate], *, start: int, currency: str
) -> Iterator[Line]:
    percents = [rate.percent for rate in group]
    if not any(percents):
        shares: tuple[Decimal, ...] = (Decimal("0.00"),) * len(group)
    else:
        whole = tax_of(base, rate_percent=sum(percents, Decimal(0)))
        shares = shared_out(whole, percents)
    terms = [Told(f"rate {n}", percent, "%") for n, percent in enumerate(percents, start=1)]
    for place, (rate, share) in enumerate(zip(group, shares, strict=True)):
        taxed = Told("taxed", base, currency)
        derived = Derived(
            f"taxed × ({summed(terms)}) / 100 × rate {place + 1} / ({summed(terms)})"
            if len(terms) > 1 and any(percents)
            else "taxed × rate 1 / 100",
            (taxed, *terms),
            f"{TAX_SOURCE} The rate: {rate.source}",
        )
        name = f"{rate.name}, {rate.percent:f} % of {TAXED_WORDS[rate.taxed]}"
        yield line(f"taxes[{start + place}]", name, share, currency, derived)


def tax_warnings(work: Work) -> tuple[Finding, ...]:
    """Say what nobody has checked or told about the tax.

    Parameters
    ----------
    work : Work
        The work with the rates that hold. [-]

    Returns
    -------
    tuple of Finding
        A warning for a rate that is an example, and where there is no rate at all. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    Our own rule: unknown is not zero.
    """
    if not work.taxes:
        return (
            Finding(
                "tax_unknown",
                "No rate of tax is kept for this place on this day, so none is added. If none is "
                "due, keep a rate of 0 % that says why.",
            ),
        )
    return tuple(
        Finding("tax_is_example", f"{rate.name} is an example. Check locally what is due.")
        for rate in work.taxes
        if rate.is_example
    )
