"""What every journey starts with: a window of a real browser, and somebody watching it.

Whatever a page complains of on the way fails the journey: an error on the console, a
broken rule of the content security policy, a missing file, a request to another host.
"""

from collections.abc import Callable, Collection, Iterator
from typing import Any

import pytest
from django.conf import settings
from django.test import Client
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    Playwright,
    Request,
    Response,
    ViewportSize,
    WebError,
    expect,
)
from pytest_django.live_server_helper import LiveServer
from pytest_playwright.pytest_playwright import CreateContextCallback

from properties.models import Firm, Person, Property
from properties.services.places import add_property
from tests.places import facts

OpenWindow = Callable[..., Page]
Visit = Callable[..., Page]

DESK = ViewportSize(width=1440, height=900)
#: Answers that a page is built to meet: signed out, drawn meanwhile, something to put right.
FORESEEN = {401, 409, 422}
PATIENCE_MS = 15_000
expect.set_options(timeout=PATIENCE_MS)
#: A small telephone: 360 px wide, a finger instead of a mouse.
PHONE = {"viewport": {"width": 360, "height": 740}, "reduced_motion": "reduce"}


class Watch:
    """Hears what the pages of one browser context complain of."""

    def __init__(self, context: BrowserContext, site: str, foreseen: Collection[int]) -> None:
        self.site = site
        self.foreseen = foreseen
        self.complaints: list[str] = []
        context.on("console", self._heard)
        context.on("weberror", self._broke)
        context.on("request", self._asked)
        context.on("response", self._answered)

    def _heard(self, message: ConsoleMessage) -> None:
        # The browser writes every 4xx to the console too; those are judged as answers.
        if message.type == "error" and not message.text.startswith("Failed to load resource"):
            self.complaints.append(f"console: {message.text}")

    def _broke(self, error: WebError) -> None:
        self.complaints.append(f"script: {error.error}")

    def _asked(self, request: Request) -> None:
        if not request.url.startswith((self.site + "/", "data:", f"blob:{self.site}/")):
            self.complaints.append(f"asked another host: {request.url}")

    def _answered(self, response: Response) -> None:
        if response.status >= 400 and response.status not in self.foreseen:
            self.complaints.append(f"{response.status}: {response.url}")


@pytest.fixture(scope="session")
def base_url(live_server: LiveServer) -> str:
    """The address of the served site; pages are opened by what follows it."""
    return str(live_server.url)


@pytest.fixture
def open_window(new_context: CreateContextCallback, base_url: str) -> Iterator[OpenWindow]:
    """Open a window: of somebody signed in already, or of nobody."""
    watches: list[Watch] = []

    def opened(
        person: Person | None = None, foreseen: Collection[int] = FORESEEN, **options: Any
    ) -> Page:
        context = new_context(**({"viewport": DESK} | options))
        context.set_default_timeout(PATIENCE_MS)
        watches.append(Watch(context, base_url, foreseen))
        if person is not None:
            remember(context, base_url, person)
        return context.new_page()

    yield opened
    assert [complaint for watch in watches for complaint in watch.complaints] == []


@pytest.fixture(scope="module")
def kept_window(browser: Browser, base_url: str) -> Iterator[tuple[Page, Watch]]:
    """One window for all the visits of a file: a new one for each costs half a second."""
    context = browser.new_context(base_url=base_url, viewport=DESK)
    context.set_default_timeout(PATIENCE_MS)
    watch = Watch(context, base_url, FORESEEN)
    yield context.new_page(), watch
    context.close()


@pytest.fixture
def visit(kept_window: tuple[Page, Watch], base_url: str) -> Iterator[Visit]:
    """Come to a page in the kept window, as somebody or as nobody."""
    page, watch = kept_window
    watch.complaints.clear()

    def visited(
        address: str, person: Person | None = None, foreseen: Collection[int] = FORESEEN
    ) -> Page:
        watch.foreseen = foreseen
        page.context.clear_cookies()
        if person is not None:
            remember(page.context, base_url, person)
        page.set_viewport_size(DESK)
        page.goto(address)
        return page

    yield visited
    assert watch.complaints == []


def remember(context: BrowserContext, site: str, person: Person) -> None:
    """Let a browser be signed in as somebody, as if they had been here before."""
    client = Client()
    client.force_login(person)
    name = settings.SESSION_COOKIE_NAME
    context.add_cookies([{"name": name, "value": client.cookies[name].value, "url": site}])


@pytest.fixture
def phone(playwright: Playwright) -> dict[str, Any]:
    """What a window on a small telephone is opened with."""
    return dict(playwright.devices["Pixel 7"]) | PHONE


@pytest.fixture
def bare_place(firm: Firm) -> Property:
    """A property on which nothing is drawn yet."""
    return add_property(firm=firm, facts=facts(name="Bare lot"))
