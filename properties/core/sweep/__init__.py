"""Treatable ground by winding number: one sweep for all joins and cuts, then a second opinion."""

from properties.core.sweep.laying import Drawn, Rows, laid_out
from properties.core.sweep.rows import Ground, treatable_ground

__all__ = ["Drawn", "Ground", "Rows", "laid_out", "treatable_ground"]
