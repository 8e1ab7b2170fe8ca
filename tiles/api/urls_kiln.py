"""Addresses of what a kiln really does; tiles/api/urls.py takes them in."""

from django.urls import path

from tiles.api.firing_kiln import FiringKiln
from tiles.api.kiln_parts import KilnParts
from tiles.api.kilns import KilnPages

urlpatterns = [
    path("kilns/<uuid:pk>/truth/", KilnPages.as_view({"get": "truth"}), name="api-kilns-truth"),
    path("kilns/<uuid:pk>/programme/", KilnPages.as_view({"get": "programme"}), name="api-kilns-programme"),
    path(
        "kilns/<uuid:pk>/parts/", KilnParts.as_view({"get": "list", "post": "create"}), name="api-kilns-parts"
    ),
    path(
        "kilns/<uuid:pk>/parts/<uuid:change>/take-back/",
        KilnParts.as_view({"post": "take_back"}),
        name="api-kilns-parts-take-back",
    ),
    path("firings/<uuid:pk>/cooling/", FiringKiln.as_view({"get": "cooling"}), name="api-firings-cooling"),
    path("firings/<uuid:pk>/energy/", FiringKiln.as_view({"get": "energy"}), name="api-firings-energy"),
    path("firings/<uuid:pk>/meter/", FiringKiln.as_view({"post": "meter"}), name="api-firings-meter"),
]
