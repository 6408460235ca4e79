"""Rows of work: machines and their calibrations, labels, mixes."""

from planner.models.equipment import Calibration, CalibrationRun, Machine, Tank
from planner.models.products import LabelSetback, Mix, MixPart, Product

__all__ = [
    "Calibration",
    "CalibrationRun",
    "LabelSetback",
    "Machine",
    "Mix",
    "MixPart",
    "Product",
    "Tank",
]
