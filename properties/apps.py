"""How Django knows this package."""

from django.apps import AppConfig


class PropertiesConfig(AppConfig):
    """Places: what is where, and whose it is."""

    name = "properties"
    verbose_name = "Properties"
