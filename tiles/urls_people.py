"""A person's own tiles, and the wall that is open to everybody; tiles/urls.py puts them into its namespace."""

from django.urls import path

from tiles.views import mine, open_wall

urlpatterns = [
    path("mine/", mine.page, name="my-tiles"),
    path("open/", open_wall.page, name="open-wall"),
    path("open/photos/<uuid:photo>/<str:size>", open_wall.sized, name="open-photo"),
]
