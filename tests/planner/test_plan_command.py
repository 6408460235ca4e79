"""manage.py plan: the whole job without a browser."""

import io
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from hypothesis import given
from hypothesis import strategies as st

from planner.management.commands import plan as command
from planner.selectors.typed_plans import plan_of_text
from tests.planner.core.asking import HERBICIDE, LAWN, area, asking, corners_of, place, point
from tests.planner.core.scenarios import PENNYWHISTLE, QUILLBROOK, RUSHMERE, after_runs, in_wind

ROOT = Path(__file__).parents[2]

SOUND = json.dumps(asking())
TOO_MUCH = json.dumps(asking(mix=[HERBICIDE | {"rate": "2 fl oz/1000 sq ft"}]))


class Said:
    """What the command wrote, and how it ended."""

    def __init__(self, status: int, out: str, err: str) -> None:
        self.status, self.out, self.err = status, out, err

    @property
    def lines(self) -> list[str]:
        return self.err.splitlines()


def said_for(request: Path | str) -> Said:
    out, err, status = io.StringIO(), io.StringIO(), 0
    try:
        call_command("plan", str(request), stdout=out, stderr=err)
    except SystemExit as left:
        status = int(str(left.code))
    return Said(status, out.getvalue(), err.getvalue())


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "request.json"


def run(*arguments: str, given: bytes = b"", data: Path, **environment: str) -> Any:
    """Run the command as a person does, in a process of its own."""
    return subprocess.run(  # noqa: S603 - our own command
        [sys.executable, "manage.py", "plan", *arguments],
        cwd=ROOT,
        input=given,
        capture_output=True,
        check=False,
        env=os.environ | {"SWARDLINE_DATA": str(data)} | environment,
    )


def test_a_plan_is_written_as_json_and_nothing_else(file: Path) -> None:
    file.write_text(SOUND)

    said = said_for(file)

    assert (said.status, said.err) == (0, "")
    assert json.loads(said.out) == plan_of_text(SOUND)


def test_a_refused_plan_is_written_whole_and_ends_with_3(file: Path) -> None:
    file.write_text(TOO_MUCH)

    said = said_for(file)

    assert (said.status, said.err) == (3, "")
    assert [refusal["code"] for refusal in json.loads(said.out)["refusals"]] == ["rate_above_label"]


def test_every_fault_stands_on_a_line_of_its_own(file: Path) -> None:
    machine = {"kind": "boom_sprayer", "swath": "10", "tanks": ["5 gal"], "output": "1 gal"}
    file.write_text(json.dumps(asking(machine=machine, mix=[{"name": "A", "rate": "1 oz"}])))

    said = said_for(file)

    assert (said.status, said.out) == (2, "")
    assert [line.split(": ")[0] for line in said.lines] == [
        "machine.swath",
        "machine.output",
        "mix[0].rate",
    ]
    assert "Write a number and a unit" in said.lines[0]


@pytest.mark.parametrize(
    ("content", "where", "words"),
    [
        (b"", "line 1, column 1", "not JSON"),
        (b'{"mix": [}', "line 1, column 10", "not JSON"),
        (b'{"mix": NaN}', "mix", "not a finite number"),
        (b'{"units": "us", "units": "us"}', "units", "written twice"),
        (b"[1, 2]", "request", "not an object"),
        (b"[" * 200_000, "request", "nested too deep"),
    ],
)
def test_text_that_is_no_request_is_told_where(
    file: Path, content: bytes, where: str, words: str
) -> None:
    file.write_bytes(content)

    said = said_for(file)

    assert said.status == 2
    assert any(line.startswith(f"{where}: ") and words in line for line in said.lines)


def test_a_file_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    missing, folder = said_for(tmp_path / "missing.json"), said_for(tmp_path)

    assert (missing.status, folder.status) == (2, 2)
    assert missing.err == (
        f"{tmp_path / 'missing.json'}: The file cannot be read (No such file or directory). "
        "Check its name and who may read it.\n"
    )
    assert "Is a directory" in folder.err


def test_a_file_that_is_not_utf8_is_told(file: Path) -> None:
    file.write_bytes('{"mix": "Größe"}'.encode("latin-1"))

    said = said_for(file)

    assert said.status == 2
    assert "not text in UTF-8 (byte 12)" in said.err


def test_fifty_megabytes_of_junk_are_turned_away(file: Path) -> None:
    with file.open("wb") as junk:
        junk.truncate(50_000_000)

    said = said_for(file)

    assert said.status == 2
    assert "larger than 20 MB" in said.err


def test_a_fault_with_a_line_break_in_its_name_stays_on_one_line(file: Path) -> None:
    file.write_text(json.dumps(asking(**{"a\nb\u2028c": 1})))

    said = said_for(file)

    assert len(said.lines) == 1
    assert said.lines[0].startswith("a\\nb\\u2028c: ")


@given(content=st.binary(max_size=200))
def test_no_bytes_break_the_command(
    tmp_path_factory: pytest.TempPathFactory, content: bytes
) -> None:
    file = tmp_path_factory.mktemp("requests") / "request.json"
    file.write_bytes(content)

    said = said_for(file)

    assert said.status == 2
    assert said.lines


def test_standard_input_is_read_and_the_plan_is_utf8_whatever_the_terminal(tmp_path: Path) -> None:
    well = point("well", "well", 30, 30, name="Brunnen ß", setback="5 ft")
    request = json.dumps(asking(property=place(LAWN, well)))

    ended = run("-", given=request.encode(), data=tmp_path, PYTHONIOENCODING="ascii")

    assert ended.returncode == 0, ended.stderr.decode()
    (zone,) = json.loads(ended.stdout.decode("utf-8"))["no_spray"]["features"]
    assert zone["properties"]["name"] == "Brunnen ß"
    assert "Brunnen ß".encode() in ended.stdout


def test_the_command_equals_the_core_to_the_last_digit_and_leaves_no_database(
    tmp_path: Path,
) -> None:
    ended = run("-", given=SOUND.encode(), data=tmp_path)

    assert ended.returncode == 0
    assert ended.stderr == b""
    assert json.loads(ended.stdout) == plan_of_text(SOUND)
    assert not list(tmp_path.glob("*.sqlite3*"))


def test_faults_and_refusals_end_with_their_own_status(tmp_path: Path) -> None:
    faulty = run("-", given=b"{}", data=tmp_path)
    refused = run("-", given=TOO_MUCH.encode(), data=tmp_path)

    assert (faulty.returncode, faulty.stdout) == (2, b"")
    assert b"Traceback" not in faulty.stderr
    assert refused.returncode == 3


def test_a_reader_that_has_read_enough_causes_no_noise(tmp_path: Path) -> None:
    request = tmp_path / "request.json"
    request.write_text(SOUND)
    reading, writing = os.pipe()
    os.close(reading)

    ended = subprocess.run(  # noqa: S603 - our own command
        [sys.executable, "manage.py", "plan", str(request)],
        cwd=ROOT,
        stdout=writing,
        stderr=subprocess.PIPE,
        check=False,
        env=os.environ | {"SWARDLINE_DATA": str(tmp_path)},
    )
    os.close(writing)

    assert (ended.returncode, ended.stderr) == (0, b"")


def test_the_largest_request_is_larger_than_the_largest_drawing() -> None:
    # 20,000 corners of two numbers with 20 digits each, and what stands between them.
    assert command.LARGEST_REQUEST_BYTES > 20_000 * 2 * 30


def test_a_job_with_two_tools_ends_with_a_plan_for_each(file: Path) -> None:
    file.write_text(json.dumps(QUILLBROOK))

    said = said_for(file)

    assert (said.status, said.err) == (0, "")
    plan = json.loads(said.out)
    assert [part["tool"] for part in plan["parts"]] == ["machine", "hand_tool"]
    assert [round(part["area"]["value"]) for part in plan["parts"]] == [10_539, 772]


def test_too_much_wind_ends_as_a_refusal_with_the_whole_tank_left_over(file: Path) -> None:
    file.write_text(json.dumps(in_wind("230 deg", "11 mph")))

    said = said_for(file)

    assert said.status == 3
    plan = json.loads(said.out)
    assert plan["hold"] is True
    assert plan["surplus"]["spray_left_over"] == {"value": 17.8125, "unit": "gal"}


@pytest.mark.parametrize(("runs", "status"), [(1, 3), (2, 3), (3, 0)])
def test_a_spreader_is_planned_once_its_catch_test_passes(
    file: Path, runs: int, status: int
) -> None:
    file.write_text(json.dumps(after_runs(runs)))

    assert said_for(file).status == status


def test_a_job_with_a_spreader_ends_with_its_bags(file: Path) -> None:
    file.write_text(json.dumps(RUSHMERE))

    said = said_for(file)

    assert (said.status, said.err) == (0, "")
    plan = json.loads(said.out)
    assert plan["carrier_volume"] is None
    assert round(plan["products"][0]["amount"]["value"], 2) == 45.25
    assert plan["spread"]["bags"]["count"] == 3
    assert round(plan["spread"]["bags"]["left_over"]["value"], 2) == 14.75


BED = area("bed", "bed", corners_of(10, 10, 20, 20), setback="3 ft")
BANK = area("bank", "turf", corners_of(0, 0, 100, 50), slope="90 deg")


@pytest.mark.parametrize(
    ("changes", "where", "words"),
    [
        ({"weather": {"wind_from": "400 deg"}}, "weather.wind_from", "not a direction"),
        (
            {"property": place(LAWN, BED | {"properties": {"kind": "bed", "setback": "-3 ft"}})},
            'property.features[1] "bed".properties.setback',
            "not a distance",
        ),
        (
            {"property": place(BANK)},
            'property.features[0] "bank".properties.slope',
            "less than 90 deg",
        ),
        ({"property": place(point("lawn", "turf", 1, 1))}, "property", "lawn"),
    ],
)
def test_what_cannot_be_is_told_on_one_line(
    file: Path, changes: dict[str, Any], where: str, words: str
) -> None:
    file.write_text(json.dumps(asking(**changes)))

    said = said_for(file)

    assert said.status == 2
    assert any(line.startswith(where) and words in line for line in said.lines)


def test_a_feature_that_swallows_the_lawn_is_named_in_the_refusal(file: Path) -> None:
    well = point("well", "well", 50, 25, setback="200 ft", name="Old well")
    file.write_text(json.dumps(asking(property=place(LAWN, well))))

    said = said_for(file)

    assert said.status == 3
    (refusal,) = json.loads(said.out)["refusals"]
    assert refusal["code"] == "nothing_treatable"
    assert "Old well (well)" in refusal["message"]


def test_a_route_is_planned_from_a_file_like_any_place(file: Path) -> None:
    file.write_text(json.dumps(PENNYWHISTLE))

    said = said_for(file)

    assert said.status == 0
    route = json.loads(said.out)["route"]
    # 57.5 × 2.0 + 3 gal with 71 fl oz; then 95.99 gal and 61 fl oz on the 9 gal that were left.
    first, (second,) = route["loads"][0], route["refill"]["loads"]
    assert first["tank"]["value"] == pytest.approx(118)
    assert first["products"][0]["amount_to_measure"]["value"] == 71
    assert second["add"]["value"] == pytest.approx(95.99, abs=5e-3)
    assert second["products"][0]["amount_to_measure"]["value"] == 61


def test_a_route_that_does_not_fit_is_a_plan_that_must_not_be_sprayed(file: Path) -> None:
    route = {"stops": [{"area": "100000 sq ft"}]}
    file.write_text(json.dumps(PENNYWHISTLE | {"route": route}))

    said = said_for(file)

    assert said.status == 3
    assert json.loads(said.out)["refusals"][0]["code"] == "route_stretch_too_long"


def test_a_route_with_faults_names_each_on_a_line_of_its_own(file: Path) -> None:
    route = {"stops": [{"area": "3 ft"}, {"reload": "river"}]}
    file.write_text(json.dumps(PENNYWHISTLE | {"route": route}))

    said = said_for(file)

    assert said.status == 2
    assert [line.split(":")[0] for line in said.lines] == [
        "route.stops[0].area",
        "route.stops[1].reload",
    ]
