"""What a plan puts down is what the ground gets, whatever a rate was given for."""

from typing import Any

import pytest

from planner.core.plan import plan_from_json
from planner.core.put_down import PutDown, put_down
from planner.core.report import plan_as_json
from tests.planner.core.asking import (
    HERBICIDE,
    LAWN,
    area,
    asking,
    corners_of,
    place,
    with_output,
)

Json = dict[str, Any]
SURFACTANT = {"name": "Invented surfactant", "rate": "0.25 %", "formulation": "NIS"}


def _of(request: Json) -> list[PutDown]:
    return list(put_down(plan_as_json(plan_from_json(request))))


@pytest.mark.parametrize("units", ["us", "metric"])
def test_a_percentage_is_put_down_as_an_amount_per_area(units: str) -> None:
    machine = with_output("2 gal/1000 sq ft")

    weeds, surfactant = _of(asking(machine=machine, mix=[HERBICIDE, SURFACTANT], units=units))

    assert weeds.product == HERBICIDE["name"]
    # 0.25 % of 256 fl oz are 0.64 fl oz; what is measured may be 5 % off.
    assert surfactant.rate.to("fl oz/1000 sq ft").value == pytest.approx(0.64, rel=0.05)
    assert surfactant.ground.equals(weeds.ground)


def test_ground_that_gets_nothing_is_left_out() -> None:
    house = area("house", "building", corners_of(-5, -5, 105, 55))

    assert _of(asking(property=place(LAWN, house), mix=[HERBICIDE])) == []
