"""Treatable ground by winding number: one sweep for all joins and cuts, then a second opinion."""

from properties.core.sweep.rows import Ground, Rows, treatable_ground

__all__ = ["Ground", "Rows", "treatable_ground"]
