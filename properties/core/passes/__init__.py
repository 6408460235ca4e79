"""Passes over the ground of a machine: round the edge first, then lanes to and fro."""

from properties.core.passes.coverage import Coverage, cover
from properties.core.passes.plan import Passes, plan_passes

__all__ = ["Coverage", "Passes", "cover", "plan_passes"]
