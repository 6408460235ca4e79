"""What the first of two passes used against what it was planned to. Weights in kg."""

from dataclasses import dataclass

from planner.core.findings import Finding, Findings
from planner.core.shown import Shown, said
from planner.core.spread.spreading import Spread, is_off


@dataclass(frozen=True)
class FirstPass:
    """A first pass that was driven: what it used, and what is left for the second."""

    used_kg: float
    planned_kg: float
    left_kg: float

    @property
    def deviation(self) -> float:
        """How far it is from the plan, as a share of it."""
        return self.used_kg / self.planned_kg - 1

    @property
    def is_off(self) -> bool:
        """Whether the spreader must be calibrated again before the second pass."""
        return is_off(self.deviation)


def first_pass_of(spread: Spread, *, used_kg: float) -> FirstPass | None:
    """Compare what a first pass used with the plan.

    Parameters
    ----------
    spread : Spread
        What the spreader puts down. [kg]
    used_kg : float
        What the first pass used, > 0. [kg]

    Returns
    -------
    FirstPass or None
        The comparison; None where the plan has no ground. [kg]

    Raises
    ------
    Nothing
        The weight was checked at the door.

    References
    ----------
    Common practice: weigh after the first pass; what is left of the whole is for the second.
    """
    planned_kg = spread.passes[0].portion.amount
    if not planned_kg:
        return None
    return FirstPass(used_kg, planned_kg, max(0.0, spread.kg - used_kg))


def first_pass_findings(first: FirstPass, *, shown: Shown) -> Findings:
    """Stop the work where the first pass used too much or too little.

    Parameters
    ----------
    first : FirstPass
        The comparison. [kg]
    shown : Shown
        The units to say numbers in. [-]

    Returns
    -------
    Findings
        A refusal where it is more than 5 % off. [-]

    Raises
    ------
    Nothing
        What is found is returned.

    References
    ----------
    UMass Extension Turf Program, Rotary Spreader Calibration Procedures: within 5 %.
    """
    if not first.is_off:
        return Findings()
    more = "more" if first.deviation > 0 else "less"
    message = (
        f"Stop: the first pass used {said(shown.weight_of(first.used_kg))} instead of "
        f"{said(shown.weight_of(first.planned_kg))}, {abs(first.deviation):.1%} {more}. Make the "
        f"catch test again before the second pass; {said(shown.weight_of(first.left_kg))} of the "
        "whole are left for it."
    )
    return Findings(refusals=(Finding("first_pass_off", message),))
