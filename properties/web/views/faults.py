"""Pages for what went wrong, in words."""

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render

NOT_FOUND = "There is no such page in your firm. It may have been moved or removed."
NOT_ALLOWED = "Your role does not allow this. Ask an owner of your firm."
TOO_OLD_FOR_DATA = (
    "You are signed out, or this page was open for too long. What you drew is kept in this "
    "browser. Reload the page, then save again."
)
TOO_OLD = (
    "This form was open for so long that its seal expired. Go back: what you typed is "
    "still there. Reload the page, then send it again."
)
BROKEN = (
    "Something went wrong on our side, and it has been logged. Nothing you typed was "
    "used. Go back and try again."
)


def _answer(request: HttpRequest, *, status: int, title: str, words: str) -> HttpResponse:
    if "application/json" in request.headers.get("Accept", ""):
        return JsonResponse({"message": words}, status=status)
    context = {"title": title, "words": words}
    return render(request, "properties/fault.html", context, status=status)


def not_understood(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Answer a request that cannot be read."""
    words = "The request could not be read. Go back, reload the page and try again."
    return _answer(request, status=400, title="Not understood", words=words)


def not_allowed(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Answer somebody without the power for this."""
    return _answer(request, status=403, title="Not allowed", words=NOT_ALLOWED)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Answer for a page that does not exist, or is not theirs."""
    return _answer(request, status=404, title="Not found", words=NOT_FOUND)


def form_too_old(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Answer a form whose seal against forgery has expired."""
    if "application/json" in request.headers.get("Accept", ""):
        return JsonResponse({"message": TOO_OLD_FOR_DATA}, status=403)
    return _answer(request, status=403, title="Please send it again", words=TOO_OLD)


def broken(request: HttpRequest) -> HttpResponse:
    """Answer for a mistake of ours."""
    return _answer(request, status=500, title="Our mistake", words=BROKEN)
