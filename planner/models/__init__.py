"""Rows of work: machines and their calibrations, labels, mixes, plans that were kept."""

from planner.models.equipment import Calibration, CalibrationRun, Machine, Tank
from planner.models.labels import LabelLine, LabelSetback, LabelVersion, Product
from planner.models.mixes import JarTest, Mix, MixPart, ProductPair, WaterTest
from planner.models.plans import KeptPlan

__all__ = [
    "Calibration",
    "CalibrationRun",
    "JarTest",
    "KeptPlan",
    "LabelLine",
    "LabelSetback",
    "LabelVersion",
    "Machine",
    "Mix",
    "MixPart",
    "Product",
    "ProductPair",
    "Tank",
    "WaterTest",
]
