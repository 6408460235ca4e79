"""How a new account becomes the owner of a new firm."""

from typing import Any

from allauth.account.adapter import DefaultAccountAdapter
from allauth.core.exceptions import ImmediateHttpResponse
from django.conf import settings
from django.db import transaction
from django.http import HttpRequest
from django.shortcuts import redirect
from django.utils import timezone

from properties.core.powers import Role
from properties.models import Person
from properties.services.firms import found_firm


class FirmAdapter(DefaultAccountAdapter):  # type: ignore[misc]
    """Signing up opens a firm; everybody else of the firm is added by its owner."""

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        """Say whether strangers may open a firm here."""
        return bool(settings.ACCOUNT_SIGNUP_ALLOWED)

    @transaction.atomic
    def save_user(
        self,
        request: HttpRequest,
        user: Person,
        form: Any,
        commit: bool = True,  # noqa: FBT001, FBT002
    ) -> Person:
        """Found the firm that the form names and make this person its owner."""
        typed = form.cleaned_data
        user.firm = found_firm(name=typed["firm_name"], units=typed["units"], at=timezone.now())
        user.name, user.units, user.role = typed["name"], typed["units"], Role.OWNER
        user.email = typed["email"].lower()
        user.set_password(typed["password1"])
        if Person.objects.filter(email=user.email).exists():
            # The same form was sent twice at once, and the other one came first.
            raise ImmediateHttpResponse(redirect("account_login"))
        if commit:
            user.save()
        return user
