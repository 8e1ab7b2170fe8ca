"""Addresses of the shelf under /api/v1/."""

from django.urls import include, path

from inventory.api.buckets import Buckets
from inventory.api.calc import SlurryCalculator
from inventory.api.classes import ClassLists
from inventory.api.fills import Fills
from inventory.api.flags import Flags
from inventory.api.glazes import Glazes, Places
from inventory.api.register import Register
from inventory.api.rounds import SgRounds
from inventory.api.substances import Substances
from studio.api.routing import Router

router = Router()
router.add("glazes", Glazes)
router.add("places", Places)
router.add("buckets", Buckets)
router.add("fills", Fills)
router.add("flags", Flags)
router.add("class-lists", ClassLists)
router.add("sg-rounds", SgRounds)
router.add("substances", Substances)

urlpatterns = [
    path("calc/slurry/", SlurryCalculator.as_view({"post": "slurry"}), name="api-calc-slurry"),
    path("register/", Register.as_view({"get": "list"}), name="api-register"),
    path("", include(router.urls)),
]
