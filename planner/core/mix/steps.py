"""A load as a list of steps, from the first water to the last."""

from dataclasses import dataclass
from enum import StrEnum

from planner.core.mix.mixing import Formulation, Step
from planner.core.mix.portions import Load, Portion

#: How much of the water goes in before anything else.
FIRST_SHARE = 0.5


class Do(StrEnum):
    """What is done in a step."""

    FIRST_WATER = "first_water"
    AGITATE = "agitate"
    ADD = "add"
    TOP_UP = "top_up"


@dataclass(frozen=True)
class MixingStep:
    """One step: some water, or one product. ``water_l`` is None where no water goes in."""

    do: Do
    words: str
    water_l: float | None = None
    portion: Portion | None = None


HOW = {
    Step.PACKETS: "Drop them in whole, and wait until they have dissolved.",
    Step.DRY: "Pour it in slowly, and wait until all of it is wet.",
    Step.CONDITIONERS: "Wait until it has dissolved.",
    Step.DISPERSED: "Shake the jug first; pour slowly, and let it spread.",
    Step.DRIFT_RETARDANTS: "Measure with care: a little too much clogs the nozzles.",
    Step.LIQUIDS: "Pour slowly.",
    Step.ADJUVANTS: "Keep the agitation gentle now: it foams.",
    Step.FERTILIZERS: "Pour slowly, and look for flakes.",
}
READ_THE_LABEL = "Read on its label how it goes in."
FIRST_WORDS = "Half the water, through an air gap."
AGITATE_WORDS = "Start the agitation, and keep it on until the tank is empty."
TOP_UP_WORDS = "The rest of the water. Then label the tank with what is in it."


def steps_of(load: Load) -> tuple[MixingStep, ...]:
    """List what is done to mix a load.

    Parameters
    ----------
    load : Load
        The load, its products in mixing order. [L]

    Returns
    -------
    tuple[MixingStep, ...]
        The steps; none for plain water, or where the products leave no room for any. [L]

    Raises
    ------
    Nothing
        Every load can be listed.

    References
    ----------
    Iowa State University turf group, Tank Mixing Procedures, SportsField Management,
    May/June 2021: start part-filled, wait between. Half: common practice.
    """
    water_l = load.water_l
    if water_l is None or not load.portions:
        return ()
    first_l = water_l * FIRST_SHARE
    return (
        MixingStep(Do.FIRST_WATER, FIRST_WORDS, water_l=first_l),
        MixingStep(Do.AGITATE, AGITATE_WORDS),
        *(
            MixingStep(Do.ADD, how_to_add(portion.product.formulation), portion=portion)
            for portion in load.portions
        ),
        MixingStep(Do.TOP_UP, TOP_UP_WORDS, water_l=water_l - first_l),
    )


def how_to_add(formulation: Formulation | None) -> str:
    """Say how a kind of product goes into the tank.

    Parameters
    ----------
    formulation : Formulation or None
        Its physical form, None where nobody knows. [-]

    Returns
    -------
    str
        A sentence. [-]

    Raises
    ------
    Nothing
        Every kind goes in somehow.

    References
    ----------
    Common practice; the label's own words prevail.
    """
    if formulation is None:
        return READ_THE_LABEL
    return HOW.get(formulation.step, READ_THE_LABEL)
