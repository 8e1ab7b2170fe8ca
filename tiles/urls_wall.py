"""The wall, combinations, clay bodies and kilns; tiles/urls.py puts them into its namespace."""

from django.urls import path

from tiles.views import clay, combinations, compare, searches, wall

urlpatterns = [
    path("wall/", wall.wall, name="wall"),
    path("wall.csv", wall.table, name="wall-csv"),
    path("wall/counts/", wall.counts, name="wall-counts"),
    path("wall/searches/", searches.save, name="search-save"),
    path("wall/searches/<uuid:pk>/", searches.page, name="search"),
    path("wall/searches/<uuid:pk>/archive/", searches.archive, name="search-archive"),
    path("compare/", compare.page, name="compare"),
    path("combinations/", combinations.listing, name="combination-list"),
    path("combinations/<uuid:pk>/", combinations.page, name="combination"),
    path("bodies/", clay.bodies, name="body-list"),
    path("bodies/new/", clay.new_body, name="body-new"),
    path("bodies/<uuid:pk>/", clay.body, name="body"),
    path("bodies/<uuid:pk>/archive/", clay.archive_body, name="body-archive"),
    path("kilns/", clay.kilns, name="kiln-list"),
    path("kilns/new/", clay.new_kiln, name="kiln-new"),
    path("kilns/<uuid:pk>/archive/", clay.archive_kiln, name="kiln-archive"),
]
