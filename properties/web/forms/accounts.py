"""What is asked beyond e-mail and password when a firm is opened."""

from django import forms

from properties.models.firm import UnitSystem


class FirmSignup(forms.Form):
    """The firm and the person who opens it."""

    firm_name = forms.CharField(label="Name of the firm", max_length=120)
    name = forms.CharField(label="Your name", max_length=120)
    units = forms.ChoiceField(label="Units", choices=UnitSystem.choices)

    field_order = ["firm_name", "name", "email", "password1", "password2", "units"]

    def signup(self, request: object, user: object) -> None:
        """Do nothing more: the adapter has founded the firm."""
