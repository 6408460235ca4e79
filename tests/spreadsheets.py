"""Spreadsheets of invented properties, at every step of their way in."""

import pytest
from django.utils import timezone

from properties.core.sheets.columns import Columns, guessed_facts
from properties.core.sheets.numbers import Decimals
from properties.models import Person, Property, Spreadsheet
from properties.selectors.imports import columns_of, preview_of
from properties.services.imports import Choice, import_now
from properties.services.spreadsheets import ForAll, bring_spreadsheet, confirm_columns

HEADINGS = "Lot,Address,Customer,Email,Area (sq ft)"
ROWS = (
    "Lot 1,1 Plover Street,Wren Alder,wren@example.com,5250",
    "Lot 2,2 Plover Street,Ida Sedge,,4800",
)
FOR_ALL = ForAll(41.0, -92.0, "America/Chicago")


def listed(*rows: str, headings: str = HEADINGS) -> bytes:
    """A file of rows under headings."""
    return "\n".join([headings, *rows, ""]).encode()


def brought(person: Person, content: bytes, *, name: str = "lots.csv") -> Spreadsheet:
    """A file that somebody brought and has not looked at yet."""
    return bring_spreadsheet(person=person, file_name=name, content=content, at=timezone.now())


def confirmed(person: Person, content: bytes, *, name: str = "lots.csv") -> Spreadsheet:
    """A file whose columns somebody confirmed."""
    sheet = brought(person, content, name=name)
    facts = guessed_facts([str(cell) for cell in sheet.rows[0]])
    columns = Columns(1, facts, Decimals.POINT, "sq ft", "", position_for_all=True)
    return confirm_columns(sheet, columns, FOR_ALL)


def seen(sheet: Spreadsheet) -> str:
    """What the preview of a spreadsheet shows, by its short name."""
    columns = columns_of(sheet)
    assert columns is not None
    return preview_of(sheet, columns).seen


def imported(sheet: Spreadsheet, person: Person, *, kept_twins: tuple[int, ...] = ()) -> list[str]:
    """Import a list as it is; the names of what the firm has then."""
    choice = Choice(seen(sheet), leave_out_faulty=True, kept_twins=kept_twins)
    import_now(sheet, person=person, choice=choice, at=timezone.now())
    return list(Property.objects.filter(firm=person.firm).values_list("name", flat=True))


@pytest.fixture
def spreadsheet(owner: Person) -> Spreadsheet:
    """Two good rows and a bad one, brought."""
    return brought(owner, listed(*ROWS, "Lot 3,,Wren Alder,,much"))


@pytest.fixture
def confirmed_spreadsheet(owner: Person) -> Spreadsheet:
    """The same with its columns confirmed."""
    return confirmed(owner, listed(*ROWS, "Lot 3,,Wren Alder,,much"))


@pytest.fixture
def imported_spreadsheet(owner: Person) -> Spreadsheet:
    """Another after its import."""
    sheet = confirmed(owner, listed("Lot 8,8 Plover Street,Wren Alder,,", "Lot 9,,Wren Alder,,"))
    imported(sheet, owner)
    sheet.refresh_from_db()
    return sheet
