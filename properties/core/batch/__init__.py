"""Measure many properties at once: the treatable area of each, as ``treat`` would find it."""

from properties.core.batch.gathering import Place
from properties.core.batch.measuring import measure_many

__all__ = ["Place", "measure_many"]
