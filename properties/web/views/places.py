"""Pages about properties: the list, one property, what is known about it."""

from django.core.paginator import Paginator
from django.http import FileResponse, Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from properties.core.powers import Power
from properties.models import Picture, Property
from properties.selectors.places import customers_of, newest_time_zone, properties_of
from properties.selectors.stated_areas import stated_area_of
from properties.services.places import add_property, change_property
from properties.web.access import PersonRequest, signed_in, with_power
from properties.web.drawing_board import board_context, tile_hosts
from properties.web.forms.places import PlaceForm
from properties.web.keeping import keep

PAGE_SIZE = 50


@require_safe
@signed_in
def properties(request: PersonRequest) -> HttpResponse:
    """List the firm's properties, with a search."""
    search = request.GET.get("find", "").strip()[:100]
    page = Paginator(properties_of(request.user, search=search), PAGE_SIZE).get_page(
        request.GET.get("page")
    )
    return render(request, "properties/properties.html", {"page": page, "search": search})


@require_safe
@signed_in
def one_property(request: PersonRequest, pk: int) -> HttpResponse:
    """Show a property with its drawing board."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    editable = request.user.may(Power.DRAW)
    context = board_context(request.user, place, editable=editable)
    context["stated"] = stated_area_of(place)
    context["own_rules"] = place.setback_rules.all()
    context["revisions"] = place.revisions.select_related("saved_by")[:10]
    response = render(request, "properties/property.html", context)
    response._csp_update = {"img-src": tile_hosts(request.user)}  # type: ignore[attr-defined]  # noqa: SLF001
    return response


@require_http_methods(["GET", "POST"])
@with_power(Power.DRAW)
def new_property(request: PersonRequest) -> HttpResponse:
    """Add a property."""
    initial = {"time_zone": newest_time_zone(request.user)}
    form = PlaceForm(request.POST or None, initial=initial)
    if form.is_valid():
        place = keep(form, lambda: add_property(firm=request.user.firm, facts=form.facts()))
        if place is not None:
            return redirect(place)
    return _place_page(request, form, None)


@require_http_methods(["GET", "POST"])
@with_power(Power.DRAW)
def edit_property(request: PersonRequest, pk: int) -> HttpResponse:
    """Change what is known about a property."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    form = PlaceForm(request.POST or None, initial=PlaceForm.of(place))
    if form.is_valid():
        kept = keep(form, lambda: change_property(place, form.facts()))
        if kept is not None:
            return redirect(kept)
    return _place_page(request, form, place)


def _place_page(request: PersonRequest, form: PlaceForm, place: Property | None) -> HttpResponse:
    return render(
        request,
        "properties/property_form.html",
        {"form": form, "place": place, "customers": customers_of(request.user)},
        status=422 if form.errors else 200,
    )


@require_safe
@signed_in
def picture(request: PersonRequest, pk: int) -> HttpResponse | FileResponse:
    """Send the picture that lies under a property's drawing."""
    place = get_object_or_404(properties_of(request.user), pk=pk)
    found = Picture.objects.filter(property=place).first()
    if found is None:
        raise Http404
    response = FileResponse(found.file.open("rb"), content_type="image/webp")
    response["Cache-Control"] = "private, max-age=86400"
    return response
