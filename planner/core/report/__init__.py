"""A plan as JSON."""

from planner.core.report.whole import day_plan_as_json, plan_as_json

__all__ = ["day_plan_as_json", "plan_as_json"]
