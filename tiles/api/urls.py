"""Addresses of the wall under /api/v1/."""

from django.urls import include, path

from studio.api.routing import Router
from tiles.api import urls_kiln
from tiles.api.ask import Ask
from tiles.api.calc import HeatWorkCalculator
from tiles.api.calc_leach import LeachCalculator
from tiles.api.causes import Causes, CausesOfTile, CauseVersions, RemedyTrials
from tiles.api.clay import ClayBodies, Kilns
from tiles.api.combinations import Combinations
from tiles.api.curves import FiringCurves
from tiles.api.firings import Firings
from tiles.api.looks import LooksDue
from tiles.api.loose import LoosePhotos
from tiles.api.marks import FlagMarks
from tiles.api.photos import Photos
from tiles.api.pieces import Pieces
from tiles.api.runs import Runs
from tiles.api.schedules import Schedules
from tiles.api.searches import SavedSearches
from tiles.api.tiles import Tiles
from tiles.api.touched import TouchedTiles
from tiles.api.urls_food import urlpatterns as food
from tiles.api.urls_laboratory import urlpatterns as laboratory
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
router.add("remedy-trials", RemedyTrials)

urlpatterns = [
    path("tiles/<uuid:pk>/causes/", CausesOfTile.as_view({"get": "retrieve"}), name="api-tiles-causes"),
    path("ask/", Ask.as_view({"get": "retrieve"}), name="api-ask"),
    path("causes/", Causes.as_view({"get": "retrieve", "post": "create"}), name="api-causes"),
    path("causes/restore/", Causes.as_view({"post": "restore"}), name="api-causes-restore"),
    path("causes/versions/", CauseVersions.as_view({"get": "list"}), name="api-causes-versions"),
    path("calc/leach/", LeachCalculator.as_view({"post": "leach"}), name="api-calc-leach"),
    *logs,
    path("calc/heat-work/", HeatWorkCalculator.as_view({"post": "heat_work"}), name="api-calc-heat-work"),
    path(
        "firings/<uuid:pk>/curve/",
        FiringCurves.as_view({"get": "retrieve"}),
        name="api-firings-curve",
    ),
    path("flags/<uuid:pk>/tiles/", TouchedTiles.as_view({"get": "list"}), name="api-flags-tiles"),
    path(
        "flags/<uuid:pk>/marks/",
        FlagMarks.as_view({"get": "list", "post": "create"}),
        name="api-flags-marks",
    ),
    path("flags/<uuid:pk>/marks/undo/", FlagMarks.as_view({"post": "undo"}), name="api-flags-marks-undo"),
    path("flags/<uuid:pk>/used/", FlagMarks.as_view({"get": "used"}), name="api-flags-used"),
    *laboratory,
    path("looks-due/", LooksDue.as_view({"get": "list"}), name="api-looks-due-list"),
    *food,
    *urls_kiln.urlpatterns,
    path("", include(router.urls)),
]
