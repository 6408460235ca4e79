"""Pages that bring in a spreadsheet of properties: file, columns, preview, report."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from properties.core.errors import Refused
from properties.core.powers import Power
from properties.core.sheets.cells import MOST_BYTES
from properties.core.sheets.safe_csv import csv_text
from properties.core.sheets.text import SEPARATORS
from properties.models import Spreadsheet
from properties.selectors.imports import (
    MOST_ROWS_AT_ONCE,
    Preview,
    columns_of,
    imported_before,
    left_out_rows,
    preview_of,
    spreadsheets_of,
    work_on,
)
from properties.selectors.spreadsheet_guesses import first_answers, guesses_of
from properties.services.imports import import_in_background, import_now
from properties.services.spreadsheets import (
    bring_spreadsheet,
    confirm_columns,
    read_again,
    throw_away,
)
from properties.web.access import PersonRequest, with_power
from properties.web.forms.imports import BringForm, ColumnsForm, ImportForm, SeparatorForm
from properties.web.keeping import keep

#: More faults than anybody reads on a page; the file has them all.
MOST_SHOWN = 500
LISTED = 20


@require_http_methods(["GET", "POST"])
@with_power(Power.DRAW)
def import_properties(request: PersonRequest) -> HttpResponse:
    """Choose a spreadsheet, and see those that were brought before."""
    sent = (request.POST, request.FILES) if request.method == "POST" else ()
    form = BringForm(*sent, too_large="UPLOAD_TOO_LARGE" in request.META)
    if form.is_valid():
        file = form.cleaned_data["file"]
        sheet = keep(
            form,
            lambda: bring_spreadsheet(
                person=request.user,
                file_name=file.name,
                # One byte more than may be: the service refuses it by its size.
                content=file.read(MOST_BYTES + 1),
                at=timezone.now(),
            ),
        )
        if sheet is not None:
            return redirect(sheet)
    context = {"form": form, "sheets": spreadsheets_of(request.user)[:LISTED]}
    status = 422 if form.errors else 200
    return render(request, "properties/import.html", context, status=status)


@require_http_methods(["GET", "POST"])
@with_power(Power.DRAW)
def import_columns(request: PersonRequest, pk: int) -> HttpResponse:
    """Say what each column holds."""
    sheet = _sheet(request, pk)
    if sheet.imported_at or work_on(sheet):
        return redirect(_stands_at(sheet))
    known = columns_of(sheet)
    initial = ColumnsForm.of(sheet, known) if known else first_answers(request.user)
    guesses = guesses_of(sheet, units=request.user.units)
    form = ColumnsForm(guesses, request.POST or None, initial=initial)
    if (
        form.is_valid()
        and keep(form, lambda: confirm_columns(sheet, *form.confirmed())) is not None
    ):
        return redirect("import_preview", pk)
    separator = sheet.reading["separator"]
    context = {
        "sheet": sheet,
        "form": form,
        "before": imported_before(sheet),
        "separator": SEPARATORS.get(separator),
        "separator_form": SeparatorForm(initial={"separator": separator}) if separator else None,
    }
    status = 422 if form.errors else 200
    return render(request, "properties/import_columns.html", context, status=status)


@require_POST
@with_power(Power.DRAW)
def read_spreadsheet_again(request: PersonRequest, pk: int) -> HttpResponse:
    """Read a text file with another separator."""
    sheet = _sheet(request, pk)
    form = SeparatorForm(request.POST)
    if form.is_valid():
        try:
            read_again(sheet, separator=form.cleaned_data["separator"])
        except Refused as refused:
            messages.warning(request, str(refused))
    return redirect("import_columns", pk)


@require_http_methods(["GET", "POST"])
@with_power(Power.DRAW)
def import_preview(request: PersonRequest, pk: int) -> HttpResponse:
    """Show what an import would do, row by row, and do it when that is confirmed."""
    sheet = _sheet(request, pk)
    columns = columns_of(sheet)
    if sheet.imported_at or work_on(sheet) or columns is None:
        return redirect(_stands_at(sheet))
    preview = preview_of(sheet, columns)
    form = ImportForm(preview, request.POST or None)
    if form.is_valid():
        done = _imported(request, sheet, form)
        if done is not None:
            return redirect(done)
    context = {
        "sheet": sheet,
        "form": form,
        "preview": preview,
        "faults": preview.read.faults[:MOST_SHOWN],
        "twins": preview.twins[:MOST_SHOWN],
        "first": preview.fresh[:10],
        "before": imported_before(sheet),
    }
    status = 422 if form.errors else 200
    return render(request, "properties/import_preview.html", context, status=status)


def _imported(request: PersonRequest, sheet: Spreadsheet, form: ImportForm) -> Any:
    """Import at once, or through the worker where the list is long."""
    act = import_in_background if _is_long(form.preview) else import_now
    return keep(
        form,
        lambda: act(sheet, person=request.user, choice=form.choice(), at=timezone.now()),
    )


def _is_long(preview: Preview) -> bool:
    return preview.rows > MOST_ROWS_AT_ONCE


@require_safe
@with_power(Power.DRAW)
def import_report(request: PersonRequest, pk: int) -> HttpResponse:
    """Tell what came of an import."""
    sheet = _sheet(request, pk)
    if not sheet.imported_at:
        return redirect(_stands_at(sheet))
    return render(request, "properties/import_report.html", {"sheet": sheet})


@require_safe
@with_power(Power.DRAW)
def import_left_out(request: PersonRequest, pk: int) -> HttpResponse:
    """Send the rows with something wrong as a file, with what to put right."""
    sheet = _sheet(request, pk)
    columns = columns_of(sheet)
    rows = sheet.report.get("rows", [])
    if not sheet.imported_at and columns is not None:
        rows = left_out_rows(sheet, preview_of(sheet, columns), columns)
    # The mark lets spreadsheet programs see that it is UTF-8.
    response = HttpResponse("\ufeff" + csv_text(rows), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = 'attachment; filename="rows-to-put-right.csv"'
    return response


@require_POST
@with_power(Power.DRAW)
def throw_spreadsheet_away(request: PersonRequest, pk: int) -> HttpResponse:
    """Forget a spreadsheet that was not imported."""
    try:
        throw_away(_sheet(request, pk))
    except Refused as refused:
        messages.warning(request, str(refused))
    return redirect("import_properties")


def _sheet(request: PersonRequest, pk: int) -> Spreadsheet:
    return get_object_or_404(spreadsheets_of(request.user), pk=pk)


def _stands_at(sheet: Spreadsheet) -> Any:
    return work_on(sheet) or sheet
