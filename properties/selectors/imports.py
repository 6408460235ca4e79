"""Spreadsheets of a person's firm, and what importing one would do."""

import hashlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.db.models import QuerySet

from properties.core.sheets.addresses import address_key
from properties.core.sheets.cells import Cell, Table
from properties.core.sheets.columns import Columns
from properties.core.sheets.rows import ListedPlace, ReadRows, headings_of, read_rows
from properties.models import Errand, Person, Property, Spreadsheet

#: Lists of more rows go through the worker.
MOST_ROWS_AT_ONCE = 500


@dataclass(frozen=True)
class Twin:
    """A row at an address that is known already: of a property, or of an earlier row."""

    place: ListedPlace
    known: Property | None = None
    earlier_row: int | None = None


@dataclass(frozen=True)
class Preview:
    """What importing a spreadsheet would do, row by row."""

    read: ReadRows
    fresh: tuple[ListedPlace, ...]
    twins: tuple[Twin, ...]

    @property
    def seen(self) -> str:
        """A short name of all that the page shows: another one where anything has changed."""
        told = (
            self.read,
            [(twin.place.row, twin.known and twin.known.pk) for twin in self.twins],
        )
        return hashlib.sha256(repr(told).encode()).hexdigest()[:32]

    @property
    def rows(self) -> int:
        """How many rows are properties, or would be without their faults."""
        return len(self.read.places) + len(self.read.faulty_rows)

    @property
    def areas(self) -> int:
        """How many rows state an area."""
        return sum(1 for place in self.read.places if place.area)

    @property
    def without_position(self) -> int:
        """How many rows lie where the whole list lies."""
        return sum(1 for place in self.read.places if place.latitude is None)


def spreadsheets_of(person: Person) -> QuerySet[Spreadsheet]:
    """List the spreadsheets that somebody of a person's firm brought, newest first."""
    found = Spreadsheet.objects.filter(firm=person.firm_id)
    return found.select_related("brought_by", "imported_by", "errand")


def imported_before(sheet: Spreadsheet) -> Spreadsheet | None:
    """Find an earlier import of the very same file."""
    same = Spreadsheet.objects.filter(
        firm=sheet.firm_id, fingerprint=sheet.fingerprint, imported_at__isnull=False
    )
    return same.exclude(pk=sheet.pk).select_related("imported_by").first()


def table_of(sheet: Spreadsheet) -> Table:
    """Give the rows of a spreadsheet as they were read."""
    rows: tuple[tuple[Cell, ...], ...] = tuple(tuple(row) for row in sheet.rows)
    reading = sheet.reading
    return Table(rows, reading["kind"], reading["separator"], tuple(reading["notes"]))


def columns_of(sheet: Spreadsheet) -> Columns | None:
    """Give the confirmed meaning of the columns, if somebody confirmed it."""
    return Columns.of_json(sheet.columns) if sheet.columns else None


def preview_of(sheet: Spreadsheet, columns: Columns) -> Preview:
    """Read every row and look for its address among the properties of the firm."""
    read = read_rows(table_of(sheet), columns)
    known = _known_places(sheet, {address_key(place.address) for place in read.places})
    twins = {twin.place.row: twin for twin in _twins(read.places, known)}
    fresh = tuple(place for place in read.places if place.row not in twins)
    return Preview(read, fresh, tuple(twins.values()))


def _twins(places: Iterable[ListedPlace], known: dict[str, Property]) -> Iterator[Twin]:
    earlier: dict[tuple[str, str], int] = {}
    for place in places:
        key = address_key(place.address)
        first = earlier.setdefault((key, place.name.casefold()), place.row)
        if key in known:
            yield Twin(place, known=known[key])
        elif first != place.row:
            yield Twin(place, earlier_row=first)


def _known_places(sheet: Spreadsheet, wanted: set[str]) -> dict[str, Property]:
    """The firm's properties at these addresses. All are looked through, few are kept."""
    firms_own = Property.objects.filter(firm=sheet.firm_id).order_by("-pk")
    addresses = firms_own.values_list("pk", "address").iterator(chunk_size=2000)
    found = {key: pk for pk, address in addresses if (key := address_key(address)) in wanted}
    places = {place.pk: place for place in _by_key(firms_own, list(found.values()))}
    return {key: places[pk] for key, pk in found.items()}


def _by_key(places: QuerySet[Property], keys: list[int]) -> Iterator[Property]:
    for start in range(0, len(keys), 500):
        yield from places.filter(pk__in=keys[start : start + 500])


def left_out_rows(sheet: Spreadsheet, preview: Preview, columns: Columns) -> list[list[Cell]]:
    """Give the faulty rows as they stand in the file, with what is wrong with each."""
    table = table_of(sheet)
    headings = headings_of(table, columns.heading_row)
    told: dict[int, list[str]] = {}
    for fault in preview.read.faults:
        told.setdefault(fault.row, []).append(f"{fault.column}: {fault.problem} {fault.remedy}")
    rows: list[list[Cell]] = [[*headings, "Row of the file", "To put right"]]
    for number, words in told.items():
        cells = [*table.rows[number - 1], *[""] * len(headings)][: len(headings)]
        rows.append([*cells, str(number), " / ".join(words)])
    return rows


def work_on(sheet: Spreadsheet) -> Errand | None:
    """Give the work that is to bring a spreadsheet in, unless it came to its end."""
    errand = sheet.errand
    under_way = errand is not None and errand.state in {"waiting", "running"}
    return errand if under_way else None
