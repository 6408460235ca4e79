"""Rows of work: machines and their calibrations, labels, mixes, plans that were kept."""

from planner.models.equipment import Calibration, CalibrationRun, Machine, Tank
from planner.models.plans import KeptPlan
from planner.models.products import LabelSetback, Mix, MixPart, Product

__all__ = [
    "Calibration",
    "CalibrationRun",
    "KeptPlan",
    "LabelSetback",
    "Machine",
    "Mix",
    "MixPart",
    "Product",
    "Tank",
]
