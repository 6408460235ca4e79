"""A quote on paper: read back by another program, tagged, and the same on every machine."""

import io
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import DictionaryObject, IndirectObject

from planner.papers.quotes import quote_pdf
from tests.planner.papers.quoted import content

LINK = "https://turf.example/q/abcdefghijklmnopqrstuvwxyz0123456789ABCDEFG/"
POINTS = {"letter": (612, 792), "a4": (595.28, 841.89)}


def _read(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf))


def _root(reader: PdfReader) -> Any:
    """The catalogue of a file, as deep as it goes."""
    return reader.trailer["/Root"]


def _text(pdf: bytes) -> str:
    """What an independent reader takes from the pages, lines joined."""
    return " ".join(" ".join(page.extract_text() for page in _read(pdf).pages).split())


def _named(node: Any, name: str) -> list[DictionaryObject]:
    """Every element of a structure tree with a name."""
    node = node.get_object() if isinstance(node, IndirectObject) else node
    if isinstance(node, list):
        return [found for kid in node for found in _named(kid, name)]
    if not isinstance(node, DictionaryObject):
        return []
    found = [node] if node.get("/S") == name else []
    return found + _named(node.get("/K", []), name)


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_the_paper_says_what_the_content_says(size: str) -> None:
    told = content()

    text = _text(quote_pdf(told, size=size, link=LINK))

    prices = [visit["price"] for option in told["options"] for visit in option["visits"]]
    amounts = [amount for row in told["price_rows"] for amount in row["amounts"]]
    words = [promise["words"] for promise in told["promises"]] + told["terms"] + told["cautions"]
    said = [
        *prices,
        *amounts,
        *words,
        told["area"]["words"],
        told["valid_until"],
        *told["made_with"],
    ]
    assert [each for each in said if each not in text] == []
    assert "Quote 2026-014, revision 2" in text


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_the_paper_has_the_size_that_was_asked_for(size: str) -> None:
    page = _read(quote_pdf(content(), size=size)).pages[0]

    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
        POINTS[size], abs=0.01
    )


def test_the_paper_is_tagged_titled_and_in_a_language() -> None:
    reader = _read(quote_pdf(content(), size="letter"))
    root = _root(reader)

    assert root["/MarkInfo"]["/Marked"] == True  # noqa: E712 (a PDF boolean)
    assert str(root["/Lang"]).startswith("en")
    assert root["/ViewerPreferences"]["/DisplayDocTitle"] == True  # noqa: E712
    assert reader.metadata is not None
    assert reader.metadata.title == "Quote 2026-014 for Small lot"
    tree = root["/StructTreeRoot"]
    assert len(_named(tree, "/H1")) == 1
    assert len(_named(tree, "/H2")) >= 5
    # Options, promises, and the visits of each of two options.
    assert len(_named(tree, "/Table")) == 4
    assert len(_named(tree, "/TH")) >= 8


def test_the_drawing_is_told_in_words_to_who_cannot_see_it() -> None:
    told = content()
    tree = _root(_read(quote_pdf(told, size="letter")))["/StructTreeRoot"]

    assert [figure.get("/Alt") for figure in _named(tree, "/Figure")] == [told["drawing_words"]]


def test_the_same_content_gives_the_same_bytes_and_names_no_machine() -> None:
    pdf = quote_pdf(content(), size="a4", link=LINK)

    assert quote_pdf(content(), size="a4", link=LINK) == pdf
    assert b"/tmp" not in pdf
    assert b"planner/papers" not in pdf


def test_words_that_look_like_markup_are_only_words() -> None:
    trick = '#read("quote.typ") *bold* $x$ @ref <label> \\'

    text = _text(quote_pdf(content(message=trick), size="letter"))

    assert trick in text


def test_a_lot_without_anything_to_protect_asks_for_what_is_missing() -> None:
    text = _text(quote_pdf(content(promises=[], notices=[]), size="letter"))

    assert "Tell us if there is a pond" in text
    assert "What the law asks" not in text
