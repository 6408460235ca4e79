"""Addresses of the pages about work."""

from django.urls import path

from planner.web.views import equipment, kept_plans, labels, mixes, mixing, plans, routes

urlpatterns = [
    path("properties/<int:pk>/plan/", plans.plan, name="plan"),
    path("properties/<int:pk>/plan/request.json", plans.export_request, name="export_request"),
    path("properties/<int:pk>/plan/keep/", kept_plans.keep_one, name="keep_plan"),
    path("properties/<int:pk>/plans/", kept_plans.kept_plans, name="kept_plans"),
    path("plans/<int:pk>/", kept_plans.kept_plan, name="kept_plan"),
    path("loads/", routes.loads, name="loads"),
    path("loads/request.json", routes.export_loads, name="export_loads"),
    path("machines/", equipment.machines, name="machines"),
    path("machines/new/", equipment.edit_machine, name="new_machine"),
    path("machines/<int:pk>/", equipment.machine, name="machine"),
    path("machines/<int:pk>/set-up/", equipment.edit_machine, name="edit_machine"),
    path("machines/<int:pk>/calibrate/", equipment.calibrate, name="calibrate"),
    path("labels/", labels.labels, name="labels"),
    path("labels/new/", labels.edit_label, name="new_label"),
    path("labels/<int:pk>/", labels.label, name="label"),
    path("labels/<int:pk>/facts/", labels.edit_label, name="edit_label"),
    path("labels/<int:pk>/check/", labels.check, name="check_label"),
    path("mixing/", mixing.mixing, name="mixing"),
    path("mixing/pairs/new/", mixing.new_pair, name="new_pair"),
    path("mixing/pairs/<int:pk>/remove/", mixing.remove_pair, name="remove_pair"),
    path("mixing/jar-tests/new/", mixing.new_jar_test, name="new_jar_test"),
    path("mixing/water/", mixing.edit_water_test, name="edit_water_test"),
    path("mixes/new/", mixes.edit_mix, name="new_mix"),
    path("mixes/<int:pk>/", mixes.mix, name="mix"),
    path("mixes/<int:pk>/parts/", mixes.edit_mix, name="edit_mix"),
]
