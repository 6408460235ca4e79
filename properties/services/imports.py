"""Importing a spreadsheet of properties: all that was confirmed, or nothing."""

from collections.abc import Iterator
from dataclasses import asdict, dataclass, field
from datetime import datetime
from itertools import count
from typing import Any

from django.db import transaction
from django.utils import timezone
from django_tasks import task

from properties.core.errors import Refused
from properties.core.sheets.columns import Columns
from properties.core.sheets.rows import ListedPlace
from properties.models import Errand, Person, Property, Spreadsheet, StatedArea
from properties.selectors.imports import (
    Preview,
    columns_of,
    left_out_rows,
    preview_of,
    work_on,
)
from properties.services.customers import customers_for
from properties.services.errands import Outcome, Progress, Write, begin, carry_out

_BATCH = 500
#: Checked by the database, or by reading the rows.
_HELD_ELSEWHERE = {"firm", "customer"}


@dataclass(frozen=True)
class Choice:
    """What somebody confirmed who saw the preview.

    ``seen`` names what the page showed. Rows with faults are left out only if that was
    asked for; a twin is added only if its row is among ``kept_twins``.
    """

    seen: str
    leave_out_faulty: bool = False
    kept_twins: tuple[int, ...] = field(default=())


@transaction.atomic
def import_now(sheet: Spreadsheet, *, person: Person, choice: Choice, at: datetime) -> Spreadsheet:
    """Import a short list at once."""
    sheet = _locked(sheet.pk)
    agreed = _agreed(sheet, choice)
    return _write(agreed, list(_made(agreed)), person=person, at=at)


@transaction.atomic
def import_in_background(
    sheet: Spreadsheet, *, person: Person, choice: Choice, at: datetime
) -> Errand:
    """Ask for a long list to be imported by the worker."""
    sheet = _locked(sheet.pk)
    if work_on(sheet):
        raise Refused("list", "This list is on its way in.", "Look at the work under way.")
    agreed = _agreed(sheet, choice)
    errand = begin(
        person=person,
        task=bring_in,
        title=f"Import {len(agreed.wanted):,} properties from {sheet.file_name}"[:200],
        about={"sheet": sheet.pk, "choice": asdict(choice)},
        at=at,
    )
    Spreadsheet.objects.filter(pk=sheet.pk).update(errand=errand)
    return errand


@task()
def bring_in(errand_id: int) -> None:
    """Import the list that an errand names."""
    carry_out(errand_id, _prepare)


def _prepare(errand: Errand, progress: Progress) -> Write:
    told = errand.about["choice"]
    choice = Choice(told["seen"], told["leave_out_faulty"], tuple(told["kept_twins"]))
    sheet = Spreadsheet.objects.get(pk=errand.about["sheet"])
    agreed = _agreed(sheet, choice)
    made = []
    for place in _made(agreed):
        made.append(place)
        progress.tell(len(made), total=len(agreed.wanted), message="Checking each property.")

    def write() -> Outcome:
        # Once more under the lock: properties may have been added meanwhile.
        still = _agreed(_locked(sheet.pk), choice)
        done = _write(still, made, person=errand.asked_by, at=timezone.now())
        return Outcome(f"{done.report['added']:,} properties are added.", done.get_absolute_url())

    return write


@dataclass(frozen=True)
class _Agreed:
    """A list whose preview is still what somebody confirmed, and its rows to import."""

    sheet: Spreadsheet
    columns: Columns
    preview: Preview
    wanted: tuple[ListedPlace, ...]


@dataclass(frozen=True)
class _Made:
    """A property that is not saved yet, and what else its row tells."""

    listed: ListedPlace
    place: Property


def _locked(pk: int) -> Spreadsheet:
    sheet = Spreadsheet.objects.select_for_update().filter(pk=pk).first()
    if sheet is None or sheet.imported_at:
        raise Refused("list", "This list is imported already.", "Look at its report.")
    return sheet


def _agreed(sheet: Spreadsheet, choice: Choice) -> _Agreed:
    """Preview a list again, and refuse where it is not what was confirmed."""
    columns = columns_of(sheet)
    if columns is None:
        raise Refused("list", "Nobody has said what the columns hold.", "Say that first.")
    preview = preview_of(sheet, columns)
    if preview.seen != choice.seen:
        raise Refused(
            "list",
            "Since you looked, the list or your properties have changed.",
            "Look through the preview again, then import.",
        )
    if preview.read.faults and not choice.leave_out_faulty:
        raise Refused(
            "leave_out_faulty",
            f"{len(preview.read.faulty_rows):,} rows cannot be imported as they are.",
            "Leave them out, or put them right in your file and bring it again.",
        )
    return _Agreed(sheet, columns, preview, _wanted(preview, choice))


def _wanted(preview: Preview, choice: Choice) -> tuple[ListedPlace, ...]:
    """The rows that are new, and the twins that are kept, in the order of the file."""
    kept = {twin.place.row: twin.place for twin in preview.twins}
    wanted = (*preview.fresh, *(kept[row] for row in choice.kept_twins if row in kept))
    if not wanted:
        raise Refused("list", "No row is left to import.", "Keep some rows, or bring another file.")
    return tuple(sorted(wanted, key=lambda place: place.row))


def _made(agreed: _Agreed) -> Iterator[_Made]:
    """Make each property, with its fields checked and a name that is free."""
    sheet = agreed.sheet
    named = Property.objects.filter(firm=sheet.firm_id).values_list("name", "address")
    taken = set(named.iterator(chunk_size=2000))
    for listed in agreed.wanted:
        place = Property(
            firm_id=sheet.firm_id,
            name=_free_name(listed, taken),
            address=listed.address,
            access_note=listed.note,
            time_zone=sheet.time_zone,
            is_located=listed.latitude is not None,
            **_position(sheet, listed),
        )
        place.clean_fields(exclude=_HELD_ELSEWHERE)
        taken.add((place.name, place.address))
        yield _Made(listed, place)


def _position(sheet: Spreadsheet, listed: ListedPlace) -> dict[str, Any]:
    """Where a property lies: its own position, or the one of the whole list."""
    told = listed if listed.latitude is not None else sheet
    return {"latitude": told.latitude, "longitude": told.longitude}


def _free_name(listed: ListedPlace, taken: set[tuple[str, str]]) -> str:
    """The name of a row; a number behind it where the same is at the address already."""
    if (listed.name, listed.address) not in taken:
        return listed.name
    numbered = (f"{listed.name[:110]} ({n})" for n in count(2))
    return next(name for name in numbered if (name, listed.address) not in taken)


def _write(
    agreed: _Agreed, made: list[_Made], *, person: Person | None, at: datetime
) -> Spreadsheet:
    """Write customers, properties and stated areas, and close the spreadsheet."""
    sheet = agreed.sheet
    sheet.imported_at, sheet.imported_by = at, person
    found = customers_for(sheet.firm_id, [one.listed for one in made])
    for one in made:
        one.place.customer = found.by_name[one.listed.customer]
    Property.objects.bulk_create([one.place for one in made], batch_size=_BATCH)
    StatedArea.objects.bulk_create(_areas(sheet, made), batch_size=_BATCH)
    sheet.report = _report(agreed, made) | {"other_contacts": found.other_contacts}
    sheet.content, sheet.rows = b"", []
    sheet.save()
    return sheet


def _areas(sheet: Spreadsheet, made: list[_Made]) -> list[StatedArea]:
    return [
        StatedArea(
            property=one.place,
            area=one.listed.area,
            typed=one.listed.area_typed[:100],
            source=f"{sheet.file_name}, row {one.listed.row}",
            stated_at=sheet.imported_at,
            stated_by=sheet.imported_by,
        )
        for one in made
        if one.listed.area is not None and sheet.imported_at is not None
    ]


def _report(agreed: _Agreed, made: list[_Made]) -> dict[str, Any]:
    read = agreed.preview.read
    left_out = left_out_rows(agreed.sheet, agreed.preview, agreed.columns)
    return {
        "added": len(made),
        "skipped": len(read.places) - len(made),
        "left_out": len(read.faulty_rows),
        "areas": sum(1 for one in made if one.listed.area is not None),
        "without_position": sum(1 for one in made if not one.place.is_located),
        "renamed": sum(1 for one in made if one.place.name != one.listed.name),
        "rows": left_out if read.faults else [],
    }
