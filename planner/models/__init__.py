"""Rows of work: machines and their calibrations, labels, mixes, plans that were kept."""

from planner.models.equipment import Calibration, CalibrationRun, Machine, Tank
from planner.models.labels import LabelLine, LabelSetback, LabelVersion, Product
from planner.models.mixes import JarTest, Mix, MixPart, ProductPair, WaterTest
from planner.models.nutrients import NutrientLimit, SoilTest
from planner.models.plans import KeptPlan
from planner.models.spreaders import CatchTest

__all__ = [
    "Calibration",
    "CalibrationRun",
    "CatchTest",
    "JarTest",
    "KeptPlan",
    "LabelLine",
    "LabelSetback",
    "LabelVersion",
    "Machine",
    "Mix",
    "MixPart",
    "NutrientLimit",
    "Product",
    "ProductPair",
    "SoilTest",
    "Tank",
    "WaterTest",
]
