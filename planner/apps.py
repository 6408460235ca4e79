"""How Django knows this package."""

from django.apps import AppConfig


class PlannerConfig(AppConfig):
    """Work: from calibration to the plan."""

    name = "planner"
    verbose_name = "Planner"
