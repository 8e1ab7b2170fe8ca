"""Addresses of the food-contact record; tiles/api/urls.py takes them in."""

from django.urls import path

from tiles.api.food import FoodRecords, Pots
from tiles.api.pot_findings import PotFindings

urlpatterns = [
    path("glazes/<uuid:pk>/food/", FoodRecords.as_view({"get": "glaze"}), name="api-glazes-food"),
    path("fills/<uuid:pk>/food/", FoodRecords.as_view({"get": "fill"}), name="api-fills-food"),
    path("tiles/<uuid:pk>/food/", FoodRecords.as_view({"get": "tile"}), name="api-tiles-food"),
    path(
        "combinations/<uuid:pk>/food/",
        FoodRecords.as_view({"get": "combination"}),
        name="api-combinations-food",
    ),
    path("pots/food/", Pots.as_view({"post": "food"}), name="api-pots-food"),
    path("pots/findings/", PotFindings.as_view({"post": "findings"}), name="api-pots-findings"),
]
