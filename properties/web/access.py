"""Who is asking, and what they may do.

A stranger's row does not exist (404); a colleague without the power is told so
(403); somebody who is not signed in is sent to the sign-in, and a page that asks
for data is told with a 401 so that it can keep what was typed.
"""

from collections.abc import Callable
from datetime import date
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, JsonResponse
from django.http.response import HttpResponseBase
from django.utils import timezone

from properties.core.powers import Power
from properties.models import Person
from properties.selectors.places import day_of_firm, newest_time_zone

View = Callable[..., HttpResponseBase]


class PersonRequest(HttpRequest):
    """A request of somebody who is signed in."""

    user: Person


def who_is_asking(request: HttpRequest) -> dict[str, Any]:
    """Give every template the person, their firm, its time zone and the names of their powers."""
    person = getattr(request, "user", None)
    if not isinstance(person, Person):
        return {"person": None, "powers": frozenset()}
    return {
        "person": person,
        "firm": person.firm,
        # Asked for only by a page that tells a time.
        "zone": lambda: newest_time_zone(person) or "UTC",
        "powers": {str(p) for p in person.powers},
    }


def today_of(request: PersonRequest) -> date:
    """Say what day it is for the firm of whoever asks, not what day it is in Greenwich."""
    return day_of_firm(timezone.now(), request.user.firm_id)


def signed_in(view: View) -> View:
    """Let only somebody through who is signed in."""
    return login_required(view)


def with_power(power: Power) -> Callable[[View], View]:
    """Let only somebody through who has a power."""

    def gate(view: View) -> View:
        @wraps(view)
        def guarded(request: PersonRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            if not request.user.may(power):
                raise PermissionDenied
            return view(request, *args, **kwargs)

        return signed_in(guarded)

    return gate


def answers_data(view: View) -> View:
    """Answer 401 with a sentence where a page would be sent to the sign-in."""

    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not request.user.is_authenticated:
            return JsonResponse(
                {
                    "message": "You are signed out. What you drew is kept in this browser: "
                    "sign in again in another tab, then save."
                },
                status=401,
            )
        return view(request, *args, **kwargs)

    return guarded
