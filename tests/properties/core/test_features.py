"""The words for the kinds of shape."""

import pytest

from properties.core.errors import Refused
from properties.core.features import KINDS, OTHER_WORDS, Role, kind_named


def test_every_kind_goes_by_its_own_token() -> None:
    assert all(kind_named(token).token == token for token in KINDS)


@pytest.mark.parametrize(
    ("word", "token"),
    [
        ("driveway", "drive_or_walk"),
        ("path", "drive_or_walk"),
        ("shrub", "tree_or_shrub"),
        ("garden", "vegetable_garden"),
        ("bed", "flower_bed"),
        ("beehive", "beehives"),
        ("drain", "storm_drain"),
        ("neighbors_land", "neighbours_land"),
    ],
)
def test_another_word_means_the_same_kind(word: str, token: str) -> None:
    assert kind_named(word) is KINDS[token]


def test_every_other_word_leads_to_a_kind() -> None:
    assert set(OTHER_WORDS.values()) <= set(KINDS)
    assert not set(OTHER_WORDS) & set(KINDS)


def test_what_water_and_people_need_is_protected_and_only_turf_is_turf() -> None:
    protected = {token for token, kind in KINDS.items() if kind.role is Role.PROTECTED}

    assert {"pond", "stream", "well", "storm_drain", "play_area", "beehives"} <= protected
    assert [token for token, kind in KINDS.items() if kind.role is Role.TURF] == ["turf"]


@pytest.mark.parametrize("word", ["lawn", "Turf", "turf ", "\ud800", "x" * 1000])
def test_an_unknown_word_is_refused_with_every_word_that_would_do(word: str) -> None:
    with pytest.raises(Refused) as refused:
        kind_named(word, field="features[0].properties.kind")

    assert refused.value.field == "features[0].properties.kind"
    assert all(token in refused.value.remedy for token in KINDS)
    str(refused.value).encode()


@pytest.mark.parametrize("word", [None, "", 7, True, ["turf"], {"kind": "turf"}])
def test_what_is_no_word_is_refused(word: object) -> None:
    with pytest.raises(Refused, match="missing"):
        kind_named(word)
