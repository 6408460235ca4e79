"""What a person adds to a plan when they keep it."""

from django import forms


class KeepPlanForm(forms.Form):
    """A note; everything else is worked out again."""

    note = forms.CharField(max_length=300, required=False)
