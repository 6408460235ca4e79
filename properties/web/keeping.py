"""Hand what was typed to a service, and put what it refuses beside the fields."""

from collections.abc import Callable
from typing import TypeVar

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.forms import BaseForm

from properties.core.errors import Refused

Kept = TypeVar("Kept")


def keep(form: BaseForm, act: Callable[[], Kept]) -> Kept | None:
    """Do the act, or give the form its refusal and return nothing."""
    try:
        return act()
    except Refused as refused:
        _say(form, refused.field, [str(refused)])
    except ValidationError as invalid:
        told = invalid.message_dict if hasattr(invalid, "error_dict") else {"": invalid.messages}
        for field, words in told.items():
            _say(form, field, words)
    return None


def _say(form: BaseForm, field: str, words: list[str]) -> None:
    form.add_error(field if field in form.fields and field != NON_FIELD_ERRORS else None, words)
