"""Rows of work: machines, labels, mixes, plans that were kept, and what a place has had."""

from planner.models.applications import KnownSince, PastApplication, Seeding
from planner.models.blackouts import BlackoutRule
from planner.models.calibrations import Calibration, CalibrationRule
from planner.models.equipment import Machine, Tank
from planner.models.fittings import Fittings, Measure
from planner.models.labels import LabelLine, LabelSetback, LabelVersion, Product
from planner.models.mixes import JarTest, Mix, MixPart, ProductPair, WaterTest
from planner.models.nutrients import NutrientLimit, SoilTest
from planner.models.patterns import PatternTest
from planner.models.plans import KeptPlan
from planner.models.spreaders import CatchTest
from planner.models.tanks import TankUse

__all__ = [
    "BlackoutRule",
    "Calibration",
    "CalibrationRule",
    "CatchTest",
    "Fittings",
    "JarTest",
    "KeptPlan",
    "KnownSince",
    "LabelLine",
    "LabelSetback",
    "LabelVersion",
    "Machine",
    "Measure",
    "Mix",
    "MixPart",
    "NutrientLimit",
    "PastApplication",
    "PatternTest",
    "Product",
    "ProductPair",
    "Seeding",
    "SoilTest",
    "Tank",
    "TankUse",
    "WaterTest",
]
