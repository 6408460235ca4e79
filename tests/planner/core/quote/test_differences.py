"""Two revisions are compared by what a customer reads."""

from typing import Any

from planner.core.quote.differences import Differing, differing
from tests.planner.papers.quoted import content


def _told(**changed: Any) -> dict[str, Any]:
    told = content(**changed)
    for option in told["options"]:
        option["total_words"] = option.get("total_words", "$10.00")
    return told


def test_the_same_content_differs_in_nothing() -> None:
    assert differing(_told(), _told()) == ()


def test_what_changed_is_told_as_it_was_and_as_it_is() -> None:
    after = _told(valid_until="June 1, 2026")
    after["options"][0]["visits"][1]["price"] = "$60.00"

    assert differing(_told(), after) == (
        Differing("Good until", "May 8, 2026", "June 1, 2026"),
        Differing(
            "Full season: Late spring",
            "April 10 to May 2, $52.45",
            "April 10 to May 2, $60.00",
        ),
    )


def test_an_option_that_is_gone_or_new_stands_against_nothing() -> None:
    alone = _told()
    del alone["options"][1]

    gone = differing(_told(), alone)
    new = differing(alone, _told())

    assert Differing("Single visit: to pay", "$10.00", "–") in gone
    assert Differing("Single visit: to pay", "–", "$10.00") in new


def test_a_promise_or_a_notice_that_changed_is_told() -> None:
    told = differing(_told(), _told(promises=_told()["promises"][:1], notices=[]))

    assert [(one.what, one.after) for one in told] == [
        ("What the law asks us to tell", "–"),
        ("Promise: Pond", "–"),
    ]
