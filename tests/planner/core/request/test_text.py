"""Reading the text of a plan request."""

import json

import pytest

from planner.core.request import read_request, read_request_text
from properties.core.errors import FaultsFound
from tests.planner.core.asking import asking


def faults_of(text: str) -> dict[str, str]:
    with pytest.raises(FaultsFound) as found:
        read_request_text(text)
    return {fault.field: str(fault) for fault in found.value.faults}


@pytest.mark.parametrize("mark", ["", "\ufeff"], ids=["plain", "with a byte order mark"])
def test_text_and_value_are_the_same_request(mark: str) -> None:
    assert read_request_text(mark + json.dumps(asking())) == read_request(asking())


@pytest.mark.parametrize(
    ("text", "field", "words"),
    [
        ("", "line 1, column 1", "not JSON"),
        ('{\n "mix": [},\n}', "line 2, column 10", "not JSON"),
        ("[" * 100_000, "request", "nested too deep"),
        ("9" * 5000, "request", "too many digits"),
        ("NaN", "request", "not a finite number"),
        ('{"mix": [{"rate": Infinity}]}', "mix[0].rate", "not a finite number"),
        ('{"mix": [1, -1e999]}', "mix[1]", "not a finite number"),
        ('{"units": "us", "units": "metric"}', "units", "written twice"),
        ('{"mix": [{"name": "a", "name": "b"}]}', "mix[0].name", "written twice"),
    ],
)
def test_a_fault_of_the_text_is_told_where_it_is(text: str, field: str, words: str) -> None:
    faults = faults_of(text)

    assert words in faults[field]


def test_faults_of_the_text_and_of_the_request_are_told_together() -> None:
    faults = faults_of('{"units": "us", "units": "us", "mix": 3}')

    assert set(faults) == {"units", "mix", "property", "machine"}


def test_a_sound_request_with_a_member_twice_is_still_refused() -> None:
    text = json.dumps(asking())[:-1] + ', "units": "us", "units": "us"}'

    assert list(faults_of(text)) == ["units"]
