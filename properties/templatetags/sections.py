"""The sections of the site: what the head of every page leads to, in the order of the work."""

from dataclasses import dataclass

from django import template
from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse

from properties.core.powers import Power

register = template.Library()


@dataclass(frozen=True, kw_only=True, slots=True)
class Section:
    """One section: what it is called, its first page, and the folders that belong to it."""

    title: str
    page: str
    folders: tuple[str, ...]
    power: Power | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Entry:
    """A section as one person sees it from one page."""

    title: str
    url: str
    is_here: bool


SECTIONS = (
    Section(title="Properties", page="properties", folders=("properties",)),
    Section(title="Season", page="season", folders=("season", "programmes")),
    Section(title="Quotes", page="quotes", folders=("quotes",), power=Power.SELL),
    Section(title="Prices", page="prices", folders=("prices",), power=Power.KEEP_PRICES),
    Section(title="Loads", page="loads", folders=("loads",)),
    Section(title="Machines", page="machines", folders=("machines", "calibrations")),
    Section(title="Labels", page="labels", folders=("labels", "mixes", "mixing")),
    Section(title="Stock", page="stock", folders=("stock",)),
    Section(title="Rules", page="rules", folders=("rules", "nutrients", "notices")),
    Section(title="Firm", page="firm", folders=("firm",), power=Power.RUN_FIRM),
)


@register.simple_tag(takes_context=True)
def sections(context: template.Context) -> tuple[Entry, ...]:
    """Give the sections that the person of this page may open."""
    request: HttpRequest = context["request"]
    powers: frozenset[Power] = context.get("powers") or frozenset()
    folder = request.path.strip("/").partition("/")[0]
    return tuple(
        Entry(title=section.title, url=url, is_here=folder in section.folders)
        for section in SECTIONS
        if (url := _url_of(section.page)) and (section.power is None or section.power in powers)
    )


def _url_of(page: str) -> str:
    """Where a section begins, or nothing where this site does not have it."""
    try:
        return reverse(page)
    except NoReverseMatch:
        return ""
