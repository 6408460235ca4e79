"""The order in which products go into the tank. The label's own order prevails."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum

from planner.core.label.labels import Form


class Step(IntEnum):
    """When a kind of formulation goes in, first to last."""

    PACKETS = 1
    DRY = 2
    CONDITIONERS = 3
    DISPERSED = 4
    DRIFT_RETARDANTS = 5
    LIQUIDS = 6
    ADJUVANTS = 7
    FERTILIZERS = 8
    SPREAD = 9


WORDS = {
    Step.PACKETS: "water-soluble packets",
    Step.DRY: "dry products",
    Step.CONDITIONERS: "water conditioners and compatibility agents",
    Step.DISPERSED: "dispersed liquids",
    Step.DRIFT_RETARDANTS: "liquid drift retardants",
    Step.LIQUIDS: "other liquids",
    Step.ADJUVANTS: "adjuvants",
    Step.FERTILIZERS: "liquid fertilizers and micronutrients",
    Step.SPREAD: "granules, spread dry and never mixed",
}


#: What goes in at these steps is always a liquid.
LIQUID_STEPS = frozenset({Step.DISPERSED, Step.LIQUIDS})


@dataclass(frozen=True)
class Formulation:
    """The physical form of a product, as the short name on its label says it."""

    token: str
    step: Step
    form: Form | None = None

    @property
    def measured_as(self) -> Form | None:
        """How it is measured out, None where that depends on the product."""
        return Form.LIQUID if self.step in LIQUID_STEPS else self.form


#: ``form`` is given where the step leaves open how the formulation is measured out.
FORMULATIONS = {
    formulation.token: formulation
    for formulation in (
        Formulation("WSP", Step.PACKETS, Form.DRY),
        Formulation("SG", Step.DRY, Form.DRY),
        Formulation("SP", Step.DRY, Form.DRY),
        Formulation("WG", Step.DRY, Form.DRY),
        Formulation("WDG", Step.DRY, Form.DRY),
        Formulation("WP", Step.DRY, Form.DRY),
        Formulation("DF", Step.DRY, Form.DRY),
        Formulation("ammonium sulfate", Step.CONDITIONERS),
        Formulation("compatibility agent", Step.CONDITIONERS),
        Formulation("CS", Step.DISPERSED),
        Formulation("EW", Step.DISPERSED),
        Formulation("F", Step.DISPERSED),
        Formulation("FL", Step.DISPERSED),
        Formulation("SC", Step.DISPERSED),
        Formulation("SE", Step.DISPERSED),
        Formulation("drift retardant", Step.DRIFT_RETARDANTS),
        Formulation("EC", Step.LIQUIDS),
        Formulation("OD", Step.LIQUIDS),
        Formulation("S", Step.LIQUIDS),
        Formulation("SL", Step.LIQUIDS),
        Formulation("adjuvant", Step.ADJUVANTS),
        Formulation("COC", Step.ADJUVANTS),
        Formulation("MSO", Step.ADJUVANTS),
        Formulation("NIS", Step.ADJUVANTS),
        Formulation("liquid fertilizer", Step.FERTILIZERS, Form.LIQUID),
        Formulation("micronutrient", Step.FERTILIZERS),
        Formulation("G", Step.SPREAD, Form.DRY),
    )
}

ADJUVANT_STEPS = frozenset({Step.CONDITIONERS, Step.DRIFT_RETARDANTS, Step.ADJUVANTS})
ADJUVANT_TOKENS = tuple(
    token for token, formulation in FORMULATIONS.items() if formulation.step in ADJUVANT_STEPS
)
#: The adjuvant whose name says no more than that it is one.
ANY_ADJUVANT = "adjuvant"

SOURCE = (
    "Iowa State University turf group, Tank Mixing Procedures, "
    "SportsField Management, May/June 2021. The label’s own order prevails."
)


def mixing_order(
    formulations: Sequence[Formulation | None], *, late: Sequence[bool]
) -> tuple[int, ...]:
    """Say in which order products go into the tank.

    With every formulation known, the order is that of its steps; products of
    one step keep the order they were asked for in. With one unknown the list
    cannot be applied: then the order asked for stands, only with the products
    that are measured by the volume of spray last, as adjuvants mostly are.

    Parameters
    ----------
    formulations : Sequence[Formulation | None]
        The formulation of each product, None where it is unknown. [-]
    late : Sequence[bool]
        Whether each product is a liquid measured by the volume of spray. [-]

    Returns
    -------
    tuple[int, ...]
        The positions of the products, first into the tank first. [-]

    Raises
    ------
    Nothing
        Any products have some order.

    References
    ----------
    Iowa State University turf group, Tank Mixing Procedures,
    SportsField Management, May/June 2021, for the steps. Other lists differ in
    the middle and agree on the ends; the label's own order prevails.
    """
    known = [formulation.step for formulation in formulations if formulation is not None]
    steps = known if len(known) == len(formulations) else [int(is_late) for is_late in late]
    return tuple(sorted(range(len(formulations)), key=lambda position: steps[position]))
