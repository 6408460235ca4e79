"""Reading a plan request: what is taken, and every fault in its place."""

import copy
from typing import Any

import pytest

from planner.core.calibration import MeasuredCourse, StatedOutput
from planner.core.mix.measures import USUAL_MEASURES
from planner.core.request import read_request
from planner.core.shown import SHOWN, Units
from properties.core.errors import FaultsFound
from properties.core.units import Quantity
from tests.planner.core.asking import HERBICIDE, LAWN, MACHINE, area, asking, corners_of, place


def faults_of(request: object) -> dict[str, str]:
    with pytest.raises(FaultsFound) as found:
        read_request(request)
    return {fault.field: str(fault) for fault in found.value.faults}


def test_a_whole_request_is_read_with_its_units() -> None:
    request = read_request(
        asking(
            units="metric",
            weather={"wind_speed": "10 km/h", "wind_from": "nnw"},
            setback_defaults={"bed": "1 m", "pond": "8 m"},
            measures={"liquid": ["1 mL", "50 mL", "10 mL"]},
        )
    )

    assert request.units is Units.METRIC
    assert request.shown is SHOWN[Units.METRIC]
    assert request.machine.swath == Quantity(10, "ft")
    assert isinstance(request.machine.calibration, MeasuredCourse)
    assert request.weather is not None
    assert request.weather.wind_from == Quantity(337.5, "deg")
    assert request.setback_defaults is not None
    assert set(request.setback_defaults) == {"flower_bed", "pond"}
    assert [mark.value for mark in request.measures.liquid] == [50, 10, 1]
    assert request.measures.dry == USUAL_MEASURES[Units.METRIC].dry


def test_what_may_be_left_out_has_its_usual_value() -> None:
    request = read_request(asking())

    assert request.units is Units.US
    assert request.weather is None
    assert request.setback_defaults is None
    assert request.measures == USUAL_MEASURES[Units.US]


def test_a_stated_output_is_taken_where_nothing_was_measured() -> None:
    machine = {name: value for name, value in MACHINE.items() if name != "calibration"}

    request = read_request(asking(machine=machine | {"output": "0.7 gal/1000 sq ft"}))

    assert request.machine.calibration == StatedOutput(Quantity(0.7, "gal/1000 sq ft"))


def test_foreign_members_of_the_geometry_are_none_of_our_business() -> None:
    lawn = copy.deepcopy(LAWN)
    lawn["properties"]["colour"] = "green"
    lawn["bbox"] = [0, 0, 1, 1]

    assert read_request(asking(property=place(lawn) | {"name": "invented"})).products


# Where, what stands there, where the fault is told, words of the fault.
FAULTS: list[tuple[list[str | int], Any, str, str]] = [
    ([], {}, "property", "is missing"),
    (["nitrogen"], 1, "nitrogen", "not part of a plan request"),
    (["units"], "imperial", "units", "Write one of: us, metric"),
    (["property"], None, "property.type", "not a GeoJSON FeatureCollection"),
    (["property"], place(), "property", "No turf is drawn"),
    (["machine"], [], "machine", "not an object"),
    (["machine", "colour"], "red", "machine.colour", "not part of a plan request"),
    (["machine", "kind"], "boat", "machine.kind", "boom_sprayer, hand_gun, backpack_sprayer"),
    (["machine", "kind"], 5, "machine.kind", "not one of the words"),
    (["machine", "swath"], 10, "machine.swath", "has no unit"),
    (["machine", "swath"], "0 ft", "machine.swath", "0 ft is not above zero"),
    (["machine", "swath"], "-1 ft", "machine.swath", "-1 ft is below zero"),
    (["machine", "swath"], "1000 ft", "machine.swath", "0.3281 ft and 328.1 ft"),
    (["machine", "swath"], "10 gal", "machine.swath", "is a volume, not a length"),
    (["machine", "tanks"], [], "machine.tanks", "0 items"),
    (["machine", "tanks"], ["1 gal"] * 11, "machine.tanks", "Give 1 to 10"),
    (["machine", "tanks"], "25 gal", "machine.tanks", "not a list"),
    (["machine", "tanks", 0], "25", "machine.tanks[0]", "has no unit"),
    (["machine", "tanks", 0], "25 lb", "machine.tanks[0]", "is a weight, not a volume"),
    (["machine", "output"], "1 gal/1000 sq ft", "machine", "Both a calibration and an output"),
    (["machine", "calibration"], 7, "machine.calibration", "not an object"),
    (
        ["machine", "calibration", "method"],
        "guess",
        "machine.calibration.method",
        "Write one of: measured_course",
    ),
    (["machine", "calibration", "volumes_used"], ["1 gal"], "machine.calibration.volumes_used",
     "1 item. Run the course with water at least three times"),
    (["machine", "calibration", "volumes_used", 1], "0 gal",
     "machine.calibration.volumes_used[1]", "not above zero"),
    (["machine", "calibration", "course_length"], "100",
     "machine.calibration.course_length", "has no unit"),
    (["mix"], {}, "mix", "not a list"),
    (["mix"], [HERBICIDE] * 21, "mix", "21 items"),
    (["mix"], [HERBICIDE, HERBICIDE], "mix[1].name", "in the mix twice"),
    (["mix", 0], "herbicide", "mix[0]", "not an object"),
    (["mix", 0, "name"], "", "mix[0].name", "not a name"),
    (["mix", 0, "name"], "a\u0007b", "mix[0].name", "not a name"),
    (["mix", 0, "name"], "x" * 301, "mix[0].name", "1 to 300 characters"),
    (["mix", 0, "rate"], "1.2 oz/1000 sq ft", "mix[0].rate", "a weight or a volume"),
    (["mix", 0, "rate"], "1.2 fl oz", "mix[0].rate", "does not say what it is for"),
    (["mix", 0, "rate"], "0 fl oz/1000 sq ft", "mix[0].rate", "not above zero"),
    (["mix", 0, "rate"], "101 %", "mix[0].rate", "cannot be right"),
    (["mix", 0, "rate"], "2 gal/1 gal", "mix[0].rate", "cannot be right"),
    (["mix", 0, "rate"], "1e300 gal/1000 sq ft", "mix[0].rate", "cannot be right"),
    (["mix", 0, "rate"], "1e-300 gal/1000 sq ft", "mix[0].rate", "cannot be right"),
    (["mix", 0, "formulation"], "XYZ", "mix[0].formulation", "WSP, SG"),
    (["mix", 0, "formulation"], 3, "mix[0].formulation", "not one of the words"),
    (["mix", 0, "formulation"], "wp", "mix[0].rate", "WP is a dry product"),
    (["mix", 0, "label"], "see bag", "mix[0].label", "not an object"),
    (["mix", 0, "label", "rate_max"], "0.5 fl oz/1000 sq ft", "mix[0].label.rate_min",
     "is more than 0.5 fl oz/1000 sq ft"),
    (["mix", 0, "label", "rate_max"], "1.5 oz wt/1000 sq ft", "mix[0].label.rate_max",
     "is a weight per area, and the rate asked for is a volume per area"),
    (["mix", 0, "label", "rate_max"], "1.5 %", "mix[0].label.rate_max",
     "is a volume per finished spray"),
    (["mix", 0, "label", "rate_max"], "-1 fl oz/1000 sq ft", "mix[0].label.rate_max", "below zero"),
    (["mix", 0, "label", "carrier_min"], "1 gal", "mix[0].label.carrier_min", "volume per area"),
    (["mix", 0, "label", "wind_max"], "10", "mix[0].label.wind_max", "has no unit"),
    (["mix", 0, "label", "wind_max"], "1000 mph", "mix[0].label.wind_max", "cannot be right"),
    (["mix", 0, "label", "setbacks"], ["pond"], "mix[0].label.setbacks", "not an object"),
    (["mix", 0, "label", "setbacks"], {"lake": "1 m"}, "mix[0].label.setbacks.lake", "Use one of"),
    (["mix", 0, "label", "setbacks"], {"patio": "1 m"}, "mix[0].label.setbacks.patio",
     "patio is not a protected feature"),
    (["mix", 0, "label", "setbacks"], {"pond": "-1 m"}, "mix[0].label.setbacks.pond", "below zero"),
    (["mix", 0, "label", "setbacks"], {"bed": "1 m", "flower_bed": "2 m"},
     "mix[0].label.setbacks.flower_bed", "given twice"),
    (["mix", 0, "label", "nitrogen"], "1", "mix[0].label.nitrogen", "not part of"),
    (["weather"], "fine", "weather", "not an object"),
    (["weather"], {"wind_speed": "-1 mph"}, "weather.wind_speed", "below zero"),
    (["weather"], {"wind_from": "360 deg"}, "weather.wind_from", "0 deg for north"),
    (["weather"], {"wind_from": "-1 deg"}, "weather.wind_from", "not a direction"),
    (["weather"], {"wind_from": "uphill"}, "weather.wind_from", "does not begin with a number"),
    (["weather"], {"wind_from": 270}, "weather.wind_from", "has no unit"),
    (["weather"], {"gusts": "9 mph"}, "weather.gusts", "not part of"),
    (["setback_defaults"], {"well": "near"}, "setback_defaults.well", "begin with a number"),
    (["setback_defaults_source"], 5, "setback_defaults_source", "not a name"),
    (["measures"], {"liquid": []}, "measures.liquid", "0 items"),
    (["measures"], {"liquid": ["1 oz wt"]}, "measures.liquid[0]", "is a weight, not a volume"),
    (["measures"], {"dry": ["1 fl oz"]}, "measures.dry[0]", "is a volume, not a weight"),
    (["measures"], {"dry": ["0 g"]}, "measures.dry[0]", "not above zero"),
    (["measures"], {"spoons": ["1 mL"]}, "measures.spoons", "not part of"),
]  # fmt: skip


def changed(path: list[str | int], value: Any) -> Any:
    if not path:
        return value
    request = asking()
    here: Any = request
    for step in path[:-1]:
        here = here[step]
    here[path[-1]] = value
    return request


@pytest.mark.parametrize(
    ("path", "value", "field", "words"),
    FAULTS,
    ids=[f"{field}: {words[:30]}" for _, _, field, words in FAULTS],
)
def test_a_fault_is_told_where_it_is(
    path: list[str | int], value: Any, field: str, words: str
) -> None:
    faults = faults_of(changed(path, value))

    assert field in faults
    assert words in faults[field]


@pytest.mark.parametrize(
    ("path", "field"),
    [
        (["machine", "kind"], "machine.kind"),
        (["machine", "swath"], "machine.swath"),
        (["machine", "tanks"], "machine.tanks"),
        (["machine", "calibration"], "machine.calibration"),
        (["machine", "calibration", "method"], "machine.calibration.method"),
        (["machine", "calibration", "course_length"], "machine.calibration.course_length"),
        (["machine", "calibration", "volumes_used"], "machine.calibration.volumes_used"),
        (["mix"], "mix"),
        (["mix", 0, "name"], "mix[0].name"),
        (["mix", 0, "rate"], "mix[0].rate"),
    ],
)
def test_what_is_missing_is_told_with_what_to_write(path: list[str | int], field: str) -> None:
    request = asking()
    here: Any = request
    for step in path[:-1]:
        here = here[step]
    del here[path[-1]]

    assert list(faults_of(request)) == [field]


def test_no_fault_hides_behind_another() -> None:
    bed = area("rose-bed", "flower_bed", corners_of(0, 0, 5, 5), setback="near")

    faults = faults_of(
        {
            "property": place(LAWN, bed),
            "machine": MACHINE | {"kind": "boat", "tanks": ["0 gal", "x"]},
            "mix": [{"name": "A", "rate": "1 oz"}, 7, {"rate": "0.25 %"}],
            "weather": {"wind_from": "up"},
            "season": "spring",
        }
    )

    assert set(faults) == {
        'property.features[1] "rose-bed".properties.setback',
        "machine.kind",
        "machine.tanks[0]",
        "machine.tanks[1]",
        "mix[0].rate",
        "mix[1]",
        "mix[2].name",
        "weather.wind_from",
        "season",
    }


@pytest.mark.parametrize("value", [None, 3, "plan", [], True])
def test_a_request_is_an_object(value: object) -> None:
    assert list(faults_of(value)) == ["request"]


def test_a_rate_that_cannot_be_read_leaves_the_label_unjudged() -> None:
    request = asking(mix=[HERBICIDE | {"rate": "lots"}])

    assert list(faults_of(request)) == ["mix[0].rate"]
