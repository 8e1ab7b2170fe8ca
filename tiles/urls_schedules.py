"""Schedules and curves; tiles/urls.py puts them into its namespace."""

from django.urls import path

from tiles.views import curves, schedules

urlpatterns = [
    path("schedules/", schedules.listing, name="schedule-list"),
    path("schedules/new/", schedules.new, name="schedule-new"),
    path("schedules/<uuid:pk>/", schedules.page, name="schedule"),
    path("schedules/<uuid:pk>/edit/", schedules.edit, name="schedule-edit"),
    path("schedules/<uuid:pk>/archive/", schedules.archive, name="schedule-archive"),
    path("firings/<int:number>/curve/", curves.page, name="firing-curve"),
]
