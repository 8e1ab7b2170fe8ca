"""A kiln and its parts; tiles/urls.py puts them into its namespace."""

from django.urls import path

from tiles.views import clay, kiln

urlpatterns = [
    path("kilns/<uuid:pk>/", kiln.page, name="kiln"),
    path("kilns/<uuid:pk>/edit/", clay.kiln, name="kiln-edit"),
    path("kilns/<uuid:pk>/parts/", kiln.new_part, name="kiln-part"),
    path("kilns/<uuid:pk>/parts/<uuid:change>/back/", kiln.part_back, name="kiln-part-back"),
    path("firings/<int:number>/meter/", kiln.meter, name="firing-meter"),
]
