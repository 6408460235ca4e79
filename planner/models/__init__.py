"""Rows of work: machines and their calibrations, labels, mixes, plans that were kept."""

from planner.models.calibrations import Calibration, CalibrationRule
from planner.models.equipment import Machine, Tank
from planner.models.fittings import Fittings, Measure
from planner.models.labels import LabelLine, LabelSetback, LabelVersion, Product
from planner.models.mixes import JarTest, Mix, MixPart, ProductPair, WaterTest
from planner.models.nutrients import NutrientLimit, SoilTest
from planner.models.plans import KeptPlan
from planner.models.spreaders import CatchTest
from planner.models.tanks import TankUse

__all__ = [
    "Calibration",
    "CalibrationRule",
    "CatchTest",
    "Fittings",
    "JarTest",
    "KeptPlan",
    "LabelLine",
    "LabelSetback",
    "LabelVersion",
    "Machine",
    "Measure",
    "Mix",
    "MixPart",
    "NutrientLimit",
    "Product",
    "ProductPair",
    "SoilTest",
    "Tank",
    "TankUse",
    "WaterTest",
]
