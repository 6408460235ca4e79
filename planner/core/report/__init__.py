"""A plan as JSON."""

from planner.core.report.whole import plan_as_json

__all__ = ["plan_as_json"]
