"""Addresses of a firing's log under /api/v1/."""

from django.urls import path

from tiles.api.logs import FiringLogs

as_view = FiringLogs.as_view

urlpatterns = [
    path("firings/<uuid:pk>/log/", as_view({"get": "log", "put": "keep"}), name="api-firings-log"),
    path(
        "firings/<uuid:pk>/log/take-back/", as_view({"post": "take_back"}), name="api-firings-log-take-back"
    ),
    path(
        "firings/<uuid:pk>/readings/",
        as_view({"get": "measured", "post": "send"}),
        name="api-firings-readings",
    ),
    path(
        "firings/<uuid:pk>/events/",
        as_view({"get": "events", "post": "add_event"}),
        name="api-firings-events",
    ),
    path(
        "firings/<uuid:pk>/events/<uuid:event>/take-back/",
        as_view({"post": "take_event_back"}),
        name="api-firings-events-take-back",
    ),
]
