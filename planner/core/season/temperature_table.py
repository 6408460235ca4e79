"""Reading a table of daily temperatures that was pasted or sent as a file."""

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from planner.core.request.reader import Believable
from properties.core.errors import FaultsFound, Refused
from properties.core.units import Dimension, Quantity, parse_quantity

#: What a heading may be called; the first of each is ours.
HEADINGS = {
    "date": ("date", "day"),
    "high": ("max", "high", "tmax", "maximum", "highest"),
    "low": ("min", "low", "tmin", "minimum", "lowest"),
    "soil": ("soil", "soil temperature", "soil temp"),
}
#: The order of year, month and day, by the word that a form carries.
DATE_ORDERS = {"ymd": (0, 1, 2), "mdy": (2, 0, 1), "dmy": (2, 1, 0)}
DELIMITERS = (",", ";", "\t")
#: The coldest and the warmest air that was ever measured lie inside (WMO, Archive of Weather
#: and Climate Extremes: −89.2 and 56.7 °C).
TEMPERATURES = Believable(Quantity(-90, "deg C"), Quantity(60, "deg C"))
MOST_ROWS = 4000
_LONGEST_CELL = 40


@dataclass(frozen=True)
class TemperatureRow:
    """What one row tells of a day; None is what nobody read."""

    line: int
    on: date
    high: Quantity | None
    low: Quantity | None
    soil: Quantity | None


def read_temperatures(text: str, *, unit: str, date_order: str) -> tuple[TemperatureRow, ...]:
    """Read a table with a heading: date, max, min and perhaps soil.

    Parameters
    ----------
    text : str
        The table, its cells parted by commas, semicolons or tabs. [-]
    unit : str
        The unit of every temperature. [-]
    date_order : str
        ``ymd``, ``mdy`` or ``dmy``. [-]

    Returns
    -------
    tuple[TemperatureRow, ...]
        The rows in their order. [unit]

    Raises
    ------
    FaultsFound
        If anything cannot be read: every fault, with the line it stands on.

    References
    ----------
    Our own format. Nothing is guessed: an empty cell is unknown.
    """
    lines = text.removeprefix("\ufeff").splitlines()
    heading = next((n for n, line in enumerate(lines) if line.strip()), None)
    if heading is None:
        raise FaultsFound([Refused("table", "The table is empty.", "Paste it with its heading.")])
    delimiter = max(DELIMITERS, key=lines[heading].count)
    columns = _columns(_cells(lines[heading], delimiter), line=heading + 1)
    reader = _Reader(columns, unit, DATE_ORDERS[date_order])
    rows = [
        (n, _cells(line, delimiter))
        for n, line in enumerate(lines[heading + 1 :], start=heading + 2)
        if line.strip(" \t,;")
    ]
    if not rows:
        fault = Refused("table", "There is no day below the heading.", "Paste the whole table.")
        raise FaultsFound([fault])
    if len(rows) > MOST_ROWS:
        problem = f"These are {len(rows):,} days; {MOST_ROWS:,} are read at once."
        raise FaultsFound([Refused("table", problem, "Send some years at a time.")])
    return reader.read(rows)


def _cells(line: str, delimiter: str) -> list[str]:
    return [cell.strip() for cell in next(csv.reader([line], delimiter=delimiter), [])]


def _columns(heading: Sequence[str], *, line: int) -> Mapping[str, int]:
    """Find which column is which. Refused where one is missing or stands twice."""
    told = [cell.casefold() for cell in heading]
    found: dict[str, int] = {}
    faults = []
    for name, called in HEADINGS.items():
        places = [position for position, cell in enumerate(told) if cell in called]
        if len(places) > 1:
            problem = f"Two columns are called “{heading[places[0]][:_LONGEST_CELL]}” or alike."
            faults.append(Refused(f"line {line}", problem, "Leave one of them out."))
        if places:
            found[name] = places[0]
    if "date" not in found:
        problem = "No column is called “date”."
        remedy = "Begin the table with a heading such as: date,max,min,soil."
        faults.append(Refused(f"line {line}", problem, remedy))
    elif not ({"high", "low"} <= found.keys() or "soil" in found):
        problem = "There are neither “max” and “min” nor “soil”."
        remedy = "Begin the table with a heading such as: date,max,min,soil."
        faults.append(Refused(f"line {line}", problem, remedy))
    if faults:
        raise FaultsFound(faults)
    return found


class _Reader:
    """Reads row after row, and keeps every fault."""

    def __init__(self, columns: Mapping[str, int], unit: str, order: tuple[int, int, int]) -> None:
        self.columns, self.unit, self.order = columns, unit, order
        self.faults: list[Refused] = []
        self.seen: dict[date, int] = {}

    def read(self, rows: Sequence[tuple[int, Sequence[str]]]) -> tuple[TemperatureRow, ...]:
        read = [self._row(line, cells) for line, cells in rows]
        if self.faults:
            raise FaultsFound(self.faults)
        return tuple(row for row in read if row is not None)

    def _row(self, line: int, cells: Sequence[str]) -> TemperatureRow | None:
        told = {
            name: cells[position] if position < len(cells) else ""
            for name, position in self.columns.items()
        }
        on = self._day(line, told["date"])
        high, low, soil = (self._degrees(line, name, told) for name in ("high", "low", "soil"))
        if high is not None and low is not None and high.si < low.si:
            problem = f"The highest, {high}, is below the lowest, {low}."
            self._add(line, problem, "Exchange the two, or correct one.")
        if on is None:
            return None
        if on in self.seen:
            problem = f"{on} stands on line {self.seen[on]} already."
            self._add(line, problem, "Leave one of the two out.")
        self.seen.setdefault(on, line)
        return TemperatureRow(line, on, high, low, soil)

    def _day(self, line: int, text: str) -> date | None:
        parts = text.replace("/", "-").replace(".", "-").split("-")
        try:
            year, month, day = (int(parts[place]) for place in self.order)
            if len(parts) == 3 and 1950 <= year <= 2199:
                return date(year, month, day)
        except (ValueError, IndexError):
            pass
        problem = f"“{text[:_LONGEST_CELL]}” is no day." if text else "The day is missing."
        self._add(
            line, problem, "Write it in the order that you chose, with a year of four digits."
        )
        return None

    def _degrees(self, line: int, name: str, told: Mapping[str, str]) -> Quantity | None:
        text = told.get(name, "")
        if not text:
            return None
        called = HEADINGS[name][0]
        try:
            read = parse_quantity(
                f"{text.replace('−', '-')} {self.unit}", Dimension.TEMPERATURE, field=called
            )
            return TEMPERATURES.check(read, field=called)
        except Refused as refused:
            shown = text[:_LONGEST_CELL]
            if refused.problem.endswith("cannot be right."):
                self._add(line, f"{called}: {refused.problem}", refused.remedy)
            else:
                remedy = "Write a number with a decimal point, or nothing where nobody read it."
                self._add(line, f"{called}: “{shown}” is no temperature.", remedy)
        return None

    def _add(self, line: int, problem: str, remedy: str) -> None:
        self.faults.append(Refused(f"line {line}", problem, remedy))
