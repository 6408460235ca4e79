"""The order in which products go into the tank."""

import itertools

import pytest

from planner.core.label.labels import Form
from planner.core.mix.mixing import FORMULATIONS, WORDS, Step, mixing_order


def order_of(*tokens: str) -> list[str]:
    positions = mixing_order([FORMULATIONS[token] for token in tokens], late=[False] * len(tokens))
    return [tokens[position] for position in positions]


# Iowa State University turf group, SportsField Management, May/June 2021.
IOWA_STATE = (
    "WSP",
    "WDG",
    "ammonium sulfate",
    "SC",
    "drift retardant",
    "EC",
    "NIS",
    "liquid fertilizer",
)


def test_products_go_in_in_the_published_order() -> None:
    assert order_of(*reversed(IOWA_STATE)) == list(IOWA_STATE)


@pytest.mark.parametrize(
    ("step", "tokens"),
    [
        (Step.DRY, {"SG", "WDG", "WP"}),
        (Step.DISPERSED, {"CS", "EW", "F", "FL", "SC", "SE"}),
        (Step.LIQUIDS, {"EC", "OD", "S", "SL"}),
        (Step.ADJUVANTS, {"COC", "MSO", "NIS"}),
    ],
)
def test_a_formulation_stands_in_its_published_step(step: Step, tokens: set[str]) -> None:
    assert {FORMULATIONS[token].step for token in tokens} == {step}


def test_products_of_one_step_keep_the_order_asked_for() -> None:
    assert order_of("SL", "EC", "WP", "OD") == ["WP", "SL", "EC", "OD"]


def test_one_unknown_formulation_keeps_the_order_but_for_what_follows_the_spray() -> None:
    known = FORMULATIONS["WP"]

    order = mixing_order([None, known, None, known], late=[True, False, False, False])

    assert order == (1, 2, 3, 0)


def test_every_order_asked_for_comes_to_the_same_order() -> None:
    orders = {tuple(order_of(*tokens)) for tokens in itertools.permutations(("NIS", "EC", "WG"))}

    assert orders == {("WG", "EC", "NIS")}


def test_every_step_has_words_and_every_dry_formulation_is_weighed() -> None:
    assert set(WORDS) == set(Step)
    for formulation in FORMULATIONS.values():
        is_dry = formulation.step in {Step.PACKETS, Step.DRY, Step.SPREAD}
        assert (formulation.form is Form.DRY) is is_dry
