"""The description of the format names everything that the format has."""

import json
import re
from pathlib import Path

import pytest

from planner.core.label.facts import Droplets, SignalWord, Tolerance
from planner.core.limits import Why
from planner.core.machine.fittings import Pump
from planner.core.machine.machines import MachineKind
from planner.core.mix.mixing import FORMULATIONS
from planner.core.nutrient.nutrients import Nutrient
from planner.core.plan import plan_from_json
from planner.core.report import plan_as_json
from planner.core.request import (
    calibration,
    fertilizer,
    fittings,
    label,
    label_facts,
    limits,
    machine,
    mix,
    mixing,
    nutrient_limits,
    past,
    set_up,
    slope_speeds,
    spots,
    spreader,
    weather,
    whole,
)
from properties.core.features import KINDS
from properties.core.outlines.placement import MEASURED_BY
from properties.core.turfgrasses import TURFGRASSES
from properties.core.units import WORDS
from tests.planner.core.asking import LAWN, asking, place
from tests.planner.core.scenarios import LARKFOOT, RUSHMERE

ROOT = Path(__file__).parents[3]
DESCRIPTION = (ROOT / "docs" / "plan-request.md").read_text(encoding="utf-8")
NAMED = set(re.findall(r"`([^`\n]+)`", DESCRIPTION))


@pytest.mark.parametrize(
    "names",
    [
        pytest.param(whole.KNOWN, id="request"),
        pytest.param(weather.KNOWN_OF_WEATHER, id="weather"),
        pytest.param(whole.KNOWN_OF_MEASURES, id="measures"),
        pytest.param(machine.KNOWN, id="machine"),
        pytest.param(spots.KNOWN, id="spots"),
        pytest.param(calibration.KNOWN, id="calibration"),
        pytest.param(calibration.METHODS, id="ways of measuring an output"),
        pytest.param(set_up.KNOWN, id="set-up"),
        pytest.param(slope_speeds.KNOWN_OF_PAIR, id="speeds on slopes"),
        pytest.param(fittings.KNOWN_OF_HOSE, id="hose"),
        pytest.param(tuple(Pump), id="pumps"),
        pytest.param(mix.KNOWN, id="mix"),
        pytest.param(label.KNOWN, id="label"),
        pytest.param(limits.KNOWN_OF_LIMITS, id="limits of a label"),
        pytest.param(limits.KNOWN_OF_INGREDIENT, id="active ingredient"),
        pytest.param(limits.KNOWN_OF_SEEDING, id="seeding"),
        pytest.param(mixing.KNOWN_OF_PAIR, id="pair"),
        pytest.param(mixing.KNOWN_OF_JAR_TEST, id="jar test"),
        pytest.param(mixing.KNOWN_OF_WATER_TEST, id="water test"),
        pytest.param(label_facts.KNOWN_OF_WATER_IN, id="water in"),
        pytest.param(tuple(TURFGRASSES), id="turfgrasses"),
        pytest.param(tuple(Droplets), id="drop sizes"),
        pytest.param(tuple(SignalWord), id="signal words"),
        pytest.param(tuple(Tolerance), id="tolerance"),
        pytest.param(fertilizer.KNOWN, id="fertilizer"),
        pytest.param(tuple(Nutrient), id="nutrients"),
        pytest.param(nutrient_limits.KNOWN_OF_LIMIT, id="limits on nutrients"),
        pytest.param(nutrient_limits.KNOWN_OF_SOIL_TEST, id="soil test"),
        pytest.param(spreader.KNOWN_OF_CALIBRATION, id="catch tests"),
        pytest.param(spreader.KNOWN_OF_RUN, id="runs of a catch test"),
        pytest.param(past.KNOWN_OF_HISTORY, id="history"),
        pytest.param(past.KNOWN_OF_BLACKOUT, id="blackouts"),
        pytest.param(past.KNOWN_OF_SEEDING, id="seedings"),
        pytest.param(tuple(Why), id="reasons to be closed"),
        pytest.param(tuple(MachineKind), id="kinds of machine"),
        pytest.param(MEASURED_BY, id="ways of measuring"),
        pytest.param(tuple(FORMULATIONS), id="formulations"),
        pytest.param(tuple(KINDS), id="kinds of shape"),
        pytest.param(
            tuple(WORDS),
            id="units",
        ),
    ],
)
def test_every_word_of_the_format_is_described(names: tuple[str, ...]) -> None:
    assert set(names) - NAMED == set()


def test_every_code_is_described_and_every_described_code_exists() -> None:
    findings = DESCRIPTION.split("### Warnings")[1]
    described = set(re.findall(r"`([a-z_]+)`", findings))
    of_plans = (ROOT / "planner" / "core").rglob("*.py")
    # What prices and stores say is no finding of a plan.
    apart = {"pricing", "stock"}
    sources = (path.read_text("utf-8") for path in of_plans if not apart & set(path.parts))
    in_code = {code for text in sources for code in re.findall(r'Finding\(\s*"([a-z_]+)"', text)}

    assert described == in_code


def test_the_example_of_the_description_is_a_plan_without_refusals() -> None:
    example = re.search(r"```json\n(.*?)```", DESCRIPTION, re.DOTALL)
    assert example is not None

    plan = plan_as_json(plan_from_json(json.loads(example[1])))

    assert plan["refusals"] == []
    assert set(plan) <= NAMED


def members_in(value: object) -> set[str]:
    if isinstance(value, list):
        return set().union(*map(members_in, value))
    if not isinstance(value, dict) or {"value", "type"} & set(value):
        return set()
    return set(value).union(*map(members_in, value.values()))


def test_every_member_of_what_a_spreader_does_is_described() -> None:
    plan = plan_as_json(plan_from_json(RUSHMERE | {"first_pass_used": "22 kg"}))

    assert members_in([plan["spread"], plan["nutrients"], plan["nutrient_limits"]]) <= NAMED
    assert set(plan) <= NAMED


def test_every_member_of_the_passes_and_of_the_error_bar_is_described() -> None:
    lawn = LAWN | {"properties": {"kind": "turf", "position_error": "1 ft"}}

    plan = plan_as_json(plan_from_json(asking(property=place(lawn), better_error="0.5 ft")))

    assert members_in([plan["passes"], plan["uncertainty"]]) - {"name"} <= NAMED
    assert {"passes_unknown", "uncertainty_unknown"} <= NAMED


def test_every_member_of_the_limits_of_a_place_is_described() -> None:
    plan = plan_as_json(plan_from_json(LARKFOOT))

    assert members_in([plan["faces"], plan["limits"]]) <= NAMED
    assert plan["faces"]
