"""Long lists come page by page, and turning one keeps what was asked for."""

from django.core.paginator import Paginator
from django.template.loader import render_to_string
from django.test import RequestFactory


def _turned(asked: str, number: int, count: int) -> str:
    page = Paginator(range(count), 10).page(number)
    words = {"page": page, "back": "Newer", "on": "Older", "at": "#list"}
    return render_to_string(
        "properties/parts/pages.html", words, request=RequestFactory().get(f"/list/?{asked}")
    )


def test_the_next_page_keeps_what_was_sought() -> None:
    nav = _turned("find=elm+%26+oak&page=2", 2, 30)

    assert 'href="?find=elm+%26+oak&amp;page=1#list">Newer' in nav
    assert 'href="?find=elm+%26+oak&amp;page=3#list">Older' in nav
    assert "Page 2 of 3" in nav


def test_the_ends_lead_no_farther_and_one_page_needs_no_turning() -> None:
    assert "Newer" not in _turned("", 1, 30)
    assert "Older" not in _turned("page=3", 3, 30)
    assert "nav" not in _turned("", 1, 10)
