"""What every page that a customer opens by a secret link has in common.

No sign-in and no script; found by no search engine, kept by no cache, and slow for
whoever tries links.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any

from csp.constants import NONE, SELF
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import add_never_cache_headers

from planner.models import QuoteRevision
from planner.selectors.quotes import revision_by_link
from planner.web.pace import too_often

View = Callable[..., HttpResponse]

#: A page of a link is opened so often in a minute at most, and answered so often.
MOST_VIEWS, MOST_ANSWERS = 60, 12
#: So many links that lead nowhere may come from one address in a minute.
MOST_WRONG = 20

POLICY = {
    "default-src": [NONE],
    "style-src": [SELF],
    "img-src": [SELF],
    "form-action": [SELF],
    "base-uri": [NONE],
    "frame-ancestors": [NONE],
}


def by_link(view: Callable[..., HttpResponse]) -> View:
    """Find the quote of a secret link and hand it to a view, or say that there is none."""

    @wraps(view)
    def guarded(request: HttpRequest, link: str, *args: Any, **kwargs: Any) -> HttpResponse:
        response = _answer(view, request, link, *args, **kwargs)
        response["X-Robots-Tag"] = "noindex, nofollow, noarchive"
        response._csp_config = POLICY  # type: ignore[attr-defined]  # noqa: SLF001
        # A refusal would be written to the log with its address, and the address is secret.
        response._has_been_logged = True  # type: ignore[attr-defined]  # noqa: SLF001
        add_never_cache_headers(response)
        return response

    return guarded


def _answer(
    view: Callable[..., HttpResponse], request: HttpRequest, link: str, *args: Any, **kwargs: Any
) -> HttpResponse:
    revision = revision_by_link(link)
    if revision is None:
        return _nowhere(request)
    if _hurried(request, revision):
        return _slowly(request)
    return view(request, revision, *args, **kwargs)


def _nowhere(request: HttpRequest) -> HttpResponse:
    if too_often(f"wrong:{request.META.get('REMOTE_ADDR', '')}", most=MOST_WRONG):
        return _slowly(request)
    return render(request, "planner/customer_nowhere.html", status=404)


def _hurried(request: HttpRequest, revision: QuoteRevision) -> bool:
    if request.method == "POST":
        return too_often(f"answer:{revision.pk}", most=MOST_ANSWERS)
    return too_often(f"view:{revision.pk}", most=MOST_VIEWS)


def _slowly(request: HttpRequest) -> HttpResponse:
    response = render(request, "planner/customer_slowly.html", status=429)
    response["Retry-After"] = "60"
    return response
