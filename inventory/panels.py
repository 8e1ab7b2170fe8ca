"""What the shelf hangs on the pages of others."""

from typing import Any

from inventory.models import Bucket
from inventory.views.spoken import spoken


def shelf_of_the_studio(request: Any, station: Any) -> dict[str, Any]:
    """Every bucket of the studio with its standing, for a station. Own jars name their owners, so they are left out."""
    buckets = Bucket.objects.on_the_shelf().filter(owner=None).with_fill().walking_order()
    return {"lids": [{"bucket": b, "fill": b.fill, "spoken": spoken(b.fill)} for b in buckets if b.fill]}
