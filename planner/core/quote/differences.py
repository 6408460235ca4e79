"""In what one revision of a quote differs from another, as somebody would tell it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

Json = dict[str, Any]

NOT_THERE = "–"


@dataclass(frozen=True)
class Differing:
    """One thing that differs: what it is, how it was, how it is."""

    what: str
    before: str
    after: str


def differing(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[Differing, ...]:
    """Compare the contents of two revisions.

    Parameters
    ----------
    before, after : Mapping of str to object
        Contents, as ``quote_content`` writes them. [-]

    Returns
    -------
    tuple of Differing
        What differs, in the order in which it is read. [-]

    Raises
    ------
    Nothing
        Any two contents can be compared.

    References
    ----------
    Our own rule.
    """
    old, new = (dict(_lines(content)) for content in (before, after))
    return tuple(
        Differing(what, old.get(what, NOT_THERE), new.get(what, NOT_THERE))
        for what in dict.fromkeys((*new, *old))
        if old.get(what) != new.get(what)
    )


def _lines(content: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Everything that is compared, each under a name that both contents give it."""
    yield "Good until", content["valid_until"]
    yield "Message", content["message"]
    for option in content["options"]:
        yield from _of_option(option)
    yield "The ground", content["area"]["words"]
    for promise in content["promises"]:
        yield f"Promise: {promise['name']}", promise["words"]
    for name in ("cautions", "notices", "made_with"):
        yield _NAMES[name], _joined(content[name])


_NAMES = {
    "cautions": "Around a visit",
    "notices": "What the law asks us to tell",
    "made_with": "Made with",
}


def _of_option(option: Json) -> Iterator[tuple[str, str]]:
    title = option["title"]
    yield f"{title}: to pay", option["total_words"]
    yield f"{title}: words", option["words"]
    for visit in option["visits"]:
        yield f"{title}: {visit['name']}", f"{visit['when']}, {visit['price']}"
        yield f"{title}: {visit['name']}, what goes down", _joined(visit["products"])


def _joined(told: Sequence[Any]) -> str:
    words = [each if isinstance(each, str) else str(each["words"]) for each in told]
    return "; ".join(words) or NOT_THERE
