"""Moving the stock: bought, carried, given back, thrown out, corrected, counted."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from planner.models import Container, StockEntry, Store
from planner.selectors.products import products_of
from planner.selectors.stock import containers_of, entries_of, lots_of, shelves_at, stores_of
from planner.services.stock import (
    Act,
    Purchase,
    Shelf,
    buy,
    correct,
    count,
    dispose,
    first_store,
    give_back,
    keep_container,
    keep_lot,
    keep_store,
    load,
    move,
    undo,
)
from planner.web.forms.stock import (
    CarriedForm,
    ContainerForm,
    CorrectedForm,
    CountForm,
    LotForm,
    MovedForm,
    PurchaseForm,
    StoreForm,
    why_field,
)
from properties.core.powers import Power
from properties.web.access import PersonRequest, signed_in, today_of, with_power
from properties.web.keeping import keep


@dataclass(frozen=True)
class Way:
    """One way in which some of a lot moves: its form, what it does, what is said."""

    title: str
    form: type[MovedForm]
    act: Callable[[Shelf, dict[str, Any], Act], StockEntry]
    said: str
    needs_why: bool = False


WAYS = {
    "carried": Way(
        "Carry some of {lot} to another place",
        CarriedForm,
        lambda shelf, typed, act: move(shelf, typed["amount"], to=typed["to"], act=act),
        "It stands at the other place now.",
    ),
    "loaded": Way(
        "Some of {lot} was loaded",
        MovedForm,
        lambda shelf, typed, act: load(shelf, typed["amount"], act=act),
        "It is out of the books.",
    ),
    "returned": Way(
        "Unused product of {lot} came back",
        MovedForm,
        lambda shelf, typed, act: give_back(shelf, typed["amount"], act=act),
        "It is back in the books.",
    ),
    "disposed": Way(
        "Some of {lot} was disposed of",
        MovedForm,
        lambda shelf, typed, act: dispose(shelf, typed["amount"], act=act),
        "It is out of the books. Keep the receipt of where it went.",
        needs_why=True,
    ),
    "corrected": Way(
        "The books of {lot} are wrong",
        CorrectedForm,
        lambda shelf, typed, act: correct(shelf, typed["amount"], act=act),
        "The books are corrected; what was wrong stays to be read.",
        needs_why=True,
    ),
}


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_STOCK)
def new_store(request: PersonRequest) -> HttpResponse:
    """Add a place where products stand."""
    form = StoreForm(request.POST or None, instance=Store(firm=request.user.firm))

    def act() -> object:
        return keep_store(form.save(commit=False))

    said = "The place is kept."
    return _kept(request, form, act, said=said, title="A place where products stand")


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_STOCK)
def edit_container(request: PersonRequest, pk: int | None = None) -> HttpResponse:
    """Enter or change a size in which a product can be bought."""
    row = Container() if pk is None else get_object_or_404(containers_of(request.user), pk=pk)
    form = ContainerForm(
        request.POST or None,
        instance=row,
        products=products_of(request.user),
        initial={"product": request.GET.get("product")},
    )

    def act() -> object:
        return keep_container(form.save(commit=False))

    said = "The container is kept."
    return _kept(request, form, act, said=said, title="A container that can be bought")


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_STOCK)
def new_purchase(request: PersonRequest) -> HttpResponse:
    """Enter containers that came in."""
    first_store(request.user.firm)
    form = PurchaseForm(
        request.POST or None,
        containers=containers_of(request.user),
        stores=stores_of(request.user),
        initial={"on": today_of(request), "container": request.GET.get("container")},
    )

    def act() -> object:
        typed = dict(form.cleaned_data)
        doing = _act(request, typed.pop("on"), typed.pop("why"))
        store = typed.pop("store")
        return buy(Purchase(**typed), store=store, act=doing)

    said = "It is in the books."
    return _kept(request, form, act, said=said, title="What was bought")


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_STOCK)
def edit_lot(request: PersonRequest, pk: int) -> HttpResponse:
    """Copy what stands on the containers of a lot."""
    row = get_object_or_404(lots_of(request.user), pk=pk)
    form = LotForm(request.POST or None, instance=row)

    def act() -> object:
        return keep_lot(form.save(commit=False))

    title = f"{row.product}, {row}"
    back = row.get_absolute_url()
    return _kept(request, form, act, said="The lot is kept.", title=title, back=back)


@require_http_methods(["GET", "POST"])
@signed_in
def moved(request: PersonRequest, pk: int, way: str) -> HttpResponse:
    """Enter that some of a lot moved."""
    return _moved(request, pk, way)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_STOCK)
def corrected(request: PersonRequest, pk: int) -> HttpResponse:
    """Enter that the books of a lot are wrong."""
    return _moved(request, pk, "corrected")


def _moved(request: PersonRequest, pk: int, way: str) -> HttpResponse:
    row = get_object_or_404(lots_of(request.user), pk=pk)
    how = WAYS[way]
    form = how.form(
        request.POST or None,
        unit=row.container.size.unit,
        stores=stores_of(request.user),
        needs_why=how.needs_why,
        initial={"on": today_of(request), "store": request.GET.get("store")},
    )

    def act() -> object:
        typed = form.cleaned_data
        shelf = Shelf(row.product, typed["store"], row)
        return how.act(shelf, typed, _act(request, typed["on"], typed["why"]))

    title = how.title.format(lot=f"{row.product}, {row}")
    return _kept(request, form, act, said=how.said, title=title, back=row.get_absolute_url())


@require_http_methods(["GET", "POST"])
@signed_in
def count_store(request: PersonRequest, pk: int) -> HttpResponse:
    """Count what stands at one place."""
    store = get_object_or_404(stores_of(request.user), pk=pk)
    shelves = [Shelf(product, store, lot) for product, lot in shelves_at(request.user, store)]
    form = CountForm(request.POST or None, shelves=shelves)
    if form.is_valid():
        doing = _act(request, today_of(request), form.cleaned_data["why"])
        entry = keep(form, lambda: count(form.found(), act=doing))
        if entry is not None:
            messages.success(request, _counted(entry))
            return redirect("stock")
    status = 422 if form.errors else 200
    return render(request, "planner/count.html", {"store": store, "form": form}, status=status)


@require_http_methods(["GET", "POST"])
@with_power(Power.KEEP_STOCK)
def undo_entry(request: PersonRequest, pk: int) -> HttpResponse:
    """Take an entry back by its opposite."""
    entry = get_object_or_404(entries_of(request.user), pk=pk)
    form = _UndoForm(request.POST or None)

    def act() -> object:
        return undo(entry, act=_act(request, entry.on, form.cleaned_data["why"]))

    said = "It is taken back. Both stay to be read."
    return _kept(request, form, act, said=said, title=f"Take back: {entry}")


class _UndoForm(forms.Form):
    why = why_field("What is wrong with it", required=True)


def _act(request: PersonRequest, on: Any, why: str) -> Act:
    return Act(request.user, on, timezone.now(), why)


def _counted(entry: StockEntry) -> str:
    lines = list(entry.movements.all())
    off = sum(abs(line.amount.si) > 1e-9 * max(1.0, abs(line.amount.si)) for line in lines)
    if not off:
        return f"Counted {len(lines)}, and the books agree."
    return f"Counted {len(lines)}; {off} differ from the books, and the difference is booked."


def _kept(
    request: PersonRequest,
    form: forms.BaseForm,
    act: Callable[[], object],
    *,
    said: str,
    title: str,
    back: str = "",
) -> HttpResponse:
    """Do what was typed and go back, or show the form with what is wrong."""
    back = back or reverse("stock")
    if form.is_valid() and keep(form, act) is not None:
        messages.success(request, said)
        return redirect(back)
    context = {"form": form, "title": title, "back": back}
    return render(request, "properties/form.html", context, status=422 if form.errors else 200)
