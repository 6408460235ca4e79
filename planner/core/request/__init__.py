"""One plan request: what it may hold, and how it is read from JSON."""

from planner.core.request.asked import PlanRequest, RateMeets
from planner.core.request.text import read_request_text
from planner.core.request.whole import read_request

__all__ = ["PlanRequest", "RateMeets", "read_request", "read_request_text"]
