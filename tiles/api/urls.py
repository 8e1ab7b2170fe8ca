"""Addresses of the wall under /api/v1/."""

from django.urls import include, path

from studio.api.routing import Router
from tiles.api import urls_kiln
from tiles.api.calc import HeatWorkCalculator
from tiles.api.clay import ClayBodies, Kilns
from tiles.api.combinations import Combinations
from tiles.api.curves import FiringCurves
from tiles.api.firings import Firings
from tiles.api.looks import LooksDue
from tiles.api.loose import LoosePhotos
from tiles.api.photos import Photos
from tiles.api.pieces import Pieces
from tiles.api.runs import Runs
from tiles.api.schedules import Schedules
from tiles.api.searches import SavedSearches
from tiles.api.tiles import Tiles
from tiles.api.touched import TouchedTiles
from tiles.api.urls_logs import urlpatterns as logs

router = Router()
router.add("clay-bodies", ClayBodies)
router.add("kilns", Kilns)
router.add("firings", Firings)
router.add("schedules", Schedules)
router.add("pieces", Pieces)
router.add("runs", Runs)
router.add("tiles", Tiles)
router.add("photos", Photos)
router.add("loose-photos", LoosePhotos)
router.add("combinations", Combinations)
router.add("searches", SavedSearches)

urlpatterns = [
    *logs,
    path("calc/heat-work/", HeatWorkCalculator.as_view({"post": "heat_work"}), name="api-calc-heat-work"),
    path(
        "firings/<uuid:pk>/curve/",
        FiringCurves.as_view({"get": "retrieve"}),
        name="api-firings-curve",
    ),
    path("flags/<uuid:pk>/tiles/", TouchedTiles.as_view({"get": "list"}), name="api-flags-tiles"),
    path("looks-due/", LooksDue.as_view({"get": "list"}), name="api-looks-due-list"),
    *urls_kiln.urlpatterns,
    path("", include(router.urls)),
]
