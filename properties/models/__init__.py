"""Rows of places: what is where, and whose it is."""

from properties.models.errands import Errand
from properties.models.firm import Firm, PositionError, SetbackRule, TileLayer, WindRule
from properties.models.outlines import Outline, Revision
from properties.models.people import Person
from properties.models.places import Customer, Picture, Property
from properties.models.spreadsheets import Spreadsheet, StatedArea, StatedAreaRule

__all__ = [
    "Customer",
    "Errand",
    "Firm",
    "Outline",
    "Person",
    "Picture",
    "PositionError",
    "Property",
    "Revision",
    "SetbackRule",
    "Spreadsheet",
    "StatedArea",
    "StatedAreaRule",
    "TileLayer",
    "WindRule",
]
