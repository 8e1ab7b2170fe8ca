"""The tiles of a flag, marked and unmarked; tiles/urls.py puts them into its namespace."""

from django.urls import path

from tiles.views import marks

urlpatterns = [
    path("flags/<uuid:pk>/marks/", marks.page, name="flag-marks"),
    path("flags/<uuid:pk>/marks/undo/", marks.undo, name="flag-marks-undo"),
]
