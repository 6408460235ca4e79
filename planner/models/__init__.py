"""Rows of work: machines, labels, mixes, plans that were kept, and what a place has had."""

from planner.models.applications import KnownSince, PastApplication, Seeding
from planner.models.blackouts import BlackoutRule
from planner.models.calibrations import Calibration, CalibrationRule
from planner.models.equipment import Machine, Tank
from planner.models.fittings import Fittings, Measure
from planner.models.jobs import Job
from planner.models.labels import LabelLine, LabelSetback, LabelVersion, Product
from planner.models.mixes import JarTest, Mix, MixPart, ProductPair, WaterTest
from planner.models.notices import Notice
from planner.models.nutrients import NutrientLimit, SoilTest
from planner.models.patterns import PatternTest
from planner.models.plans import KeptPlan
from planner.models.portfolios import (
    Portfolio,
    PortfolioLine,
    PortfolioMember,
    PortfolioQuote,
)
from planner.models.prices import PriceBook, PriceBookVersion, TaxRule
from planner.models.programmes import Programme, Round, SeasonFinding
from planner.models.quotes import (
    Quote,
    QuoteAnswer,
    QuoteDocument,
    QuoteEdit,
    QuoteOption,
    QuoteQuestion,
    QuoteRevision,
    QuoteVisit,
)
from planner.models.spreaders import CatchTest
from planner.models.stock import Container, JobWork, Lot, Movement, PlannedUse, StockEntry, Store
from planner.models.tanks import TankUse
from planner.models.temperatures import DailyTemperature, Station

__all__ = [
    "BlackoutRule",
    "Calibration",
    "CalibrationRule",
    "CatchTest",
    "Container",
    "DailyTemperature",
    "Fittings",
    "JarTest",
    "Job",
    "JobWork",
    "KeptPlan",
    "KnownSince",
    "LabelLine",
    "LabelSetback",
    "LabelVersion",
    "Lot",
    "Machine",
    "Measure",
    "Mix",
    "MixPart",
    "Movement",
    "Notice",
    "NutrientLimit",
    "PastApplication",
    "PatternTest",
    "PlannedUse",
    "Portfolio",
    "PortfolioLine",
    "PortfolioMember",
    "PortfolioQuote",
    "PriceBook",
    "PriceBookVersion",
    "Product",
    "ProductPair",
    "Programme",
    "Quote",
    "QuoteAnswer",
    "QuoteDocument",
    "QuoteEdit",
    "QuoteOption",
    "QuoteQuestion",
    "QuoteRevision",
    "QuoteVisit",
    "Round",
    "SeasonFinding",
    "Seeding",
    "SoilTest",
    "Station",
    "StockEntry",
    "Store",
    "Tank",
    "TankUse",
    "TaxRule",
    "WaterTest",
]
