"""Addresses of the shelf under /api/v1/."""

from django.urls import include, path

from inventory.api.buckets import Buckets
from inventory.api.classes import ClassLists
from inventory.api.fills import Fills
from inventory.api.flags import Flags
from inventory.api.glazes import Glazes, Places
from inventory.api.register import Register
from studio.api.routing import Router

router = Router()
router.add("glazes", Glazes)
router.add("places", Places)
router.add("buckets", Buckets)
router.add("fills", Fills)
router.add("flags", Flags)
router.add("class-lists", ClassLists)

urlpatterns = [
    path("register/", Register.as_view({"get": "list"}), name="api-register"),
    path("", include(router.urls)),
]
