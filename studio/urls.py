"""All addresses. Those printed on labels, /b/<code> and /t/<number>, live for ever."""

from django.urls import include, path

urlpatterns = [
    path("", include("studio.page_urls")),
    path("", include("inventory.urls")),
    path("", include("tiles.urls")),
    path("api/", include("studio.api.urls")),
    path("api/v1/", include("inventory.api.urls")),
    path("api/v1/", include("tiles.api.urls")),
]

handler400 = "studio.views.errors.bad_request"
handler403 = "studio.views.errors.forbidden"
handler404 = "studio.views.errors.not_found"
handler500 = "studio.views.errors.server_error"
