"""Addresses of the wall. `/t/<number>` stands on tiles and labels and lives for ever: it has no namespace."""

from django.urls import include, path

from tiles import (
    urls_causes,
    urls_firing,
    urls_kiln,
    urls_logs,
    urls_making,
    urls_marks,
    urls_people,
    urls_schedules,
    urls_unload,
    urls_wall,
)
from tiles.urls_food import urlpatterns as food
from tiles.urls_laboratory import urlpatterns as laboratory
from tiles.views import layers, log, numbers, outcomes, photos, tile

paths = [
    path("log/", log.start, name="log-start"),
    path("log/number/", numbers.bare, name="number-bare"),
    path("log/add/", numbers.add, name="number-add"),
    path("t/<str:number>/log", log.page, name="log"),
    path("t/<str:number>/layers/check", log.check, name="layer-check"),
    path("t/<str:number>/layers/<uuid:layer>", layers.correct, name="layer-correct"),
    path("t/<str:number>/layers/<uuid:layer>/away", layers.take_away, name="layer-away"),
    path("t/<str:number>/firing", log.load, name="log-load"),
    path("t/<str:number>/hand", tile.hand, name="tile-hand"),
    path("t/<str:number>/edit", tile.edit, name="tile-edit"),
    path("t/<str:number>/look", outcomes.look, name="tile-look"),
    path("looks/<uuid:look>/take-back", outcomes.take_back, name="look-back"),
    path("t/<str:number>/photos", photos.add, name="photo-add"),
    path("photos/<uuid:photo>/", photos.page, name="photo"),
    path("photos/<uuid:photo>/away", photos.archive, name="photo-archive"),
    path("photos/<uuid:photo>/original", photos.original, name="photo-original"),
    path("photos/<uuid:photo>/<str:size>", photos.sized, name="photo-sized"),
    *urls_firing.urlpatterns,
    *food,
    *laboratory,
    *urls_kiln.urlpatterns,
    *urls_logs.urlpatterns,
    *urls_making.urlpatterns,
    *urls_marks.urlpatterns,
    *urls_people.urlpatterns,
    *urls_schedules.urlpatterns,
    *urls_wall.urlpatterns,
    *urls_unload.urlpatterns,
    *urls_causes.urlpatterns,
]

urlpatterns = [
    path("t/<str:number>", tile.page, name="tile"),
    path("", include((paths, "tiles"))),
]
