"""The parts of the form of a label: what each is called, what is filled in, whether it is open."""

from collections.abc import Iterable
from dataclasses import dataclass

from django import forms

from properties.core.showing import shown
from properties.core.units import Quantity

#: How much of a part is told in its line.
MOST_TOLD = 3
NOTHING = "nothing copied"
#: Chosen for everybody beforehand, so it tells nothing.
_CHOSEN_BEFOREHAND = {"year"}


@dataclass(frozen=True)
class LabelPart:
    """A part of the form that opens: its title, what is filled in, whether it is open."""

    title: str
    said: str
    is_open: bool


def label_part(
    title: str, fields: Iterable[forms.BoundField], *, is_first: bool = False
) -> LabelPart:
    """Say of some fields of a form what is filled in; open where one is wrong, or was typed."""
    rows = list(fields)
    told = [words for field in rows if (words := _told(field))]
    more = len(told) - MOST_TOLD
    said = "; ".join(told[:MOST_TOLD]) + (f"; and {more} more" if more > 0 else "")
    wrong = sum(bool(field.errors) for field in rows)
    if wrong:
        said = f"{wrong} to look at" if wrong > 1 else "one to look at"
    # What was typed and refused stays in sight.
    was_typed = bool(told) and any(field.form.is_bound for field in rows)
    return LabelPart(title, said or NOTHING, bool(wrong) or was_typed or is_first)


def _told(field: forms.BoundField) -> str:
    """A field with what is in it, empty where nothing is."""
    value, name = field.value(), str(field.label)
    if field.name in _CHOSEN_BEFOREHAND or value in (None, "", False):
        return ""
    if isinstance(value, list | tuple):
        return f"{name} {value[0]} {value[1]}" if value and value[0] else ""
    if isinstance(value, Quantity):
        return f"{name} {shown(value)}"
    if isinstance(field.field, forms.BooleanField):
        return name
    choices = dict(getattr(field.field, "choices", ()))
    return f"{name}: {choices.get(value, value)}"
