"""Addresses of the pages about places."""

from django.urls import path
from django.views.generic import RedirectView

from properties.web.views import drawing, errands, firm, history, imports, places, stated_areas

urlpatterns = [
    path("", RedirectView.as_view(pattern_name="properties"), name="start"),
    path("properties/", places.properties, name="properties"),
    path("properties/new/", places.new_property, name="new_property"),
    path("properties/import/", imports.import_properties, name="import_properties"),
    path("properties/import/<int:pk>/columns/", imports.import_columns, name="import_columns"),
    path(
        "properties/import/<int:pk>/separator/",
        imports.read_spreadsheet_again,
        name="read_spreadsheet_again",
    ),
    path("properties/import/<int:pk>/preview/", imports.import_preview, name="import_preview"),
    path("properties/import/<int:pk>/report/", imports.import_report, name="import_report"),
    path(
        "properties/import/<int:pk>/left-out.csv", imports.import_left_out, name="import_left_out"
    ),
    path(
        "properties/import/<int:pk>/throw-away/",
        imports.throw_spreadsheet_away,
        name="throw_spreadsheet_away",
    ),
    path("properties/<int:pk>/", places.one_property, name="property"),
    path("properties/<int:pk>/facts/", places.edit_property, name="edit_property"),
    path("properties/<int:pk>/history/", history.history, name="history"),
    path("properties/<int:pk>/picture/", places.picture, name="property_picture"),
    path("properties/<int:pk>/drawing/", drawing.save, name="save_drawing"),
    path("properties/<int:pk>/measure/", drawing.measure, name="measure_drawing"),
    path("properties/<int:pk>/drawing.geojson", drawing.export, name="export_drawing"),
    path("rules/", firm.rules, name="rules"),
    path("rules/new/", firm.edit_rule, name="new_rule"),
    path("properties/<int:at>/rules/new/", firm.edit_rule, name="new_rule_at"),
    path("rules/wind/", firm.edit_wind_rule, name="edit_wind_rule"),
    path("rules/stated-areas/", stated_areas.edit_stated_area_rule, name="edit_stated_area_rule"),
    path("rules/placing/<int:pk>/", firm.edit_position_error, name="edit_position_error"),
    path("rules/<int:pk>/", firm.edit_rule, name="edit_rule"),
    path("firm/", firm.firm, name="firm"),
    path("firm/facts/", firm.edit_firm, name="edit_firm"),
    path("firm/people/new/", firm.new_person, name="new_person"),
    path("firm/people/<int:pk>/", firm.edit_person, name="edit_person"),
    path("firm/people/<int:pk>/link/", firm.new_link, name="new_link"),
    path("firm/layers/new/", firm.new_tile_layer, name="new_tile_layer"),
    path("firm/layers/<int:pk>/remove/", firm.remove_tile_layer, name="remove_tile_layer"),
    path("under-way/", errands.errands, name="errands"),
    path("under-way/<int:pk>/", errands.errand, name="errand"),
    path("under-way/<int:pk>/part/", errands.errand_part, name="errand_part"),
    path("under-way/<int:pk>/stop/", errands.stop_errand, name="stop_errand"),
    path("under-way/<int:pk>/again/", errands.begin_errand_again, name="begin_errand_again"),
    path("under-way/<int:pk>/here/", errands.do_errand_here, name="do_errand_here"),
    path("you/", firm.own_facts, name="own_facts"),
]
