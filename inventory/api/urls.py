"""Addresses of the shelf under /api/v1/."""

from inventory.api.buckets import Buckets
from inventory.api.fills import Fills
from inventory.api.flags import Flags
from inventory.api.glazes import Glazes, Places
from studio.api.routing import Router

router = Router()
router.add("glazes", Glazes)
router.add("places", Places)
router.add("buckets", Buckets)
router.add("fills", Fills)
router.add("flags", Flags)

urlpatterns = router.urls
