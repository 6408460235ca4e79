"""Every address of the site: places first, then the work done there."""

from django.urls import include, path

urlpatterns = [
    path("account/", include("allauth.account.urls")),
    path("", include("properties.web.urls")),
    path("", include("planner.web.urls")),
]

handler400 = "properties.web.views.faults.not_understood"
handler403 = "properties.web.views.faults.not_allowed"
handler404 = "properties.web.views.faults.not_found"
handler500 = "properties.web.views.faults.broken"
