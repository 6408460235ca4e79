"""A product of the mix, and what its label says against the rate and the carrier asked for."""

from dataclasses import dataclass, field

from planner.core.findings import Finding, Findings
from planner.core.label.labels import EVERY_KIND, SAME_NUMBER, Basis, Form, Label, RateKind
from planner.core.label.substances import Content, kg_per_amount
from planner.core.mix.measures import Span, span_of
from planner.core.mix.mixing import Formulation
from planner.core.nutrient.nutrients import Fertilizer, Nutrient
from planner.core.shown import Shown, said, said_at_most
from properties.core.units import Quantity


@dataclass(frozen=True)
class NutrientTarget:
    """A rate of a nutrient that the rate of a product was worked out from."""

    nutrient: Nutrient
    rate: Quantity


@dataclass(frozen=True)
class LeastInSpray:
    """A rate that was asked for, and the least of the product in the spray, which may be more."""

    asked: Quantity
    least: Quantity
    output_l_per_m2: float

    @property
    def rate_si(self) -> float:
        """The rate per area that the least in the spray comes to."""
        return self.least.si * self.output_l_per_m2

    @property
    def rules(self) -> bool:
        """Whether the least in the spray is more than what was asked for."""
        return self.asked.si < self.rate_si * (1 - SAME_NUMBER)


@dataclass(frozen=True)
class Product:
    """What is put down: a rate, and the label as it was copied.

    ``rate_told`` is the rate as it was written, where the density turned it into ``rate``;
    ``past_rates`` are those of earlier plans. ``fertilizer`` is what one holds, and
    ``target`` the rate of a nutrient that its own rate was worked out from. ``least`` is
    told where whichever is more of two rates counts, and ``shares`` are the rates of the
    tools with their areas where these differ and ``rate`` is their mean.
    """

    name: str
    rate: Quantity
    label: Label = field(default_factory=Label)
    formulation: Formulation | None = None
    rate_told: Quantity | None = None
    past_rates: tuple[Quantity, ...] = ()
    fertilizer: Fertilizer | None = None
    target: NutrientTarget | None = None
    least: LeastInSpray | None = None
    shares: tuple[tuple[float, Quantity], ...] = ()

    @property
    def kind(self) -> RateKind:
        """Liquid or dry, per area, per finished spray or for each plant."""
        return EVERY_KIND[self.rate.dimension]

    @property
    def is_liquid(self) -> bool:
        """Whether it takes up room in the tank."""
        return self.kind.form is Form.LIQUID

    @property
    def by_area(self) -> bool:
        """Whether its amount follows the ground and not the spray."""
        return self.kind.basis is Basis.AREA

    @property
    def kg_per_amount(self) -> float:
        """What one kg or one L of it weighs, in kg: a liquid fertilizer has a density."""
        density = self.label.density
        return density.si if self.is_liquid and density is not None else 1.0

    @property
    def contents(self) -> tuple[Content, ...] | None:
        """What is counted across products of what it holds; None where nobody says."""
        ingredients = self.label.active_ingredients
        if ingredients is None:
            return None
        form, density = self.kind.form, self.label.density
        told = (
            (each.name, kg_per_amount(each.content, form=form, density=density))
            for each in ingredients
        )
        return tuple(Content(name, amount) for name, amount in told if amount is not None)

    @property
    def rate_is_in_label(self) -> bool:
        """Whether no known end of the label's range is passed."""
        return self.allows(self.rate.si) is not False

    def may_be_mixed(self, cap: float) -> bool:
        """Whether the label, and ground that may get no more than a cap, allow the rate."""
        return self.rate_is_in_label and self.rate.si <= cap * (1 + SAME_NUMBER)

    def span(self, cap: float) -> Span:
        """The rates that rounding may lead to on ground that may get no more than a cap."""
        return span_of(self.rate.si, self.label.rate, cap=cap)

    def allows(self, rate: float) -> bool | None:
        """Whether the label allows a rate, None where an end of its range is not known."""
        limits = self.label.rate
        if limits.exceeded_by(rate) or limits.undercut_by(rate):
            return False
        return None if limits.lowest is None or limits.highest is None else True


def label_findings(product: Product, *, output_l_per_m2: float, shown: Shown) -> Findings:
    """Compare what is asked for with what the label allows.

    Parameters
    ----------
    product : Product
        A product of the mix. [-]
    output_l_per_m2 : float
        Finished spray the machine puts down, > 0. [L/m²]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        A refusal where the label is left, a warning where it is not known. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The label itself; a range that nobody copied is unknown, not unlimited.
    """
    carrier = _carrier_refusals(product, output_l_per_m2, shown)
    refusals = _rate_refusals(product, _lower(product, shown))
    return Findings(_range_warnings(product), (*refusals, *carrier))


def rate_findings(product: Product) -> Findings:
    """Compare a rate alone with what the label allows, as for granules without a carrier.

    Parameters
    ----------
    product : Product
        A product, at the rate that is meant. [-]

    Returns
    -------
    Findings
        A refusal where the label is left, a warning where it is not known. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    The label itself; a range that nobody copied is unknown, not unlimited.
    """
    return Findings(_range_warnings(product), _rate_refusals(product, _ANOTHER))


_ANOTHER = "Choose a lower rate or another product."


def _rate_refusals(product: Product, lower: str) -> tuple[Finding, ...]:
    limits = product.label.rate
    if limits.exceeded_by(product.rate.si):
        told = product.rate if product.least is None else said(product.rate)
        message = (
            f"{product.name}: {told} is more than the label allows "
            f"({limits.highest} at most). {lower}"
        )
        return (Finding("rate_above_label", message, product=product.name),)
    if limits.undercut_by(product.rate.si):
        message = (
            f"{product.name}: {product.rate} is less than the label’s lowest rate "
            f"({limits.lowest}). Control may fail and resistance may grow. Choose a rate "
            "of the label."
        )
        return (Finding("rate_below_label", message, product=product.name),)
    return ()


def _lower(product: Product, shown: Shown) -> str:
    """What would bring a rate down to the label’s highest."""
    least, highest = product.least, product.label.rate.highest
    if least is None or highest is None or not least.rules:
        return _ANOTHER
    return (
        f"It is {product.label.conditions.least_in_spray} of this machine’s spray, the least that "
        "the label asks for. Use a machine or tips that put down "
        f"{said_at_most(shown.output_of(highest.si / least.least.si))} at most, and "
        "calibrate again, or choose another product."
    )


def _carrier_refusals(
    product: Product, output_l_per_m2: float, shown: Shown
) -> tuple[Finding, ...]:
    limits = product.label.carrier
    output = said(shown.output_of(output_l_per_m2))
    if limits.undercut_by(output_l_per_m2):
        message = (
            f"{product.name}: this machine puts down {output}, and the label asks for "
            f"{limits.lowest} of finished spray at least. Use a machine or nozzles with a "
            "higher output, and calibrate again."
        )
        return (Finding("carrier_below_label", message, product=product.name),)
    if limits.exceeded_by(output_l_per_m2):
        message = (
            f"{product.name}: this machine puts down {output}, and the label allows "
            f"{limits.highest} of finished spray at most. Use a machine or nozzles with a "
            "lower output, and calibrate again."
        )
        return (Finding("carrier_above_label", message, product=product.name),)
    return ()


def _range_warnings(product: Product) -> tuple[Finding, ...]:
    limits = product.label.rate
    missing = {
        (True, True): "The label’s range of rates is",
        (True, False): "The label’s lowest rate is",
        (False, True): "The label’s highest rate is",
    }.get((limits.lowest is None, limits.highest is None))
    if missing is None:
        return ()
    message = (
        f"{product.name}: {missing[0].lower()}{missing[1:]} not known here, so nobody has "
        "checked the rate against it. Compare the rate with the label in your hand, and copy "
        "the range from it."
    )
    return (Finding("label_range_missing", message, product=product.name),)
