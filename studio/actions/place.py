"""Writes about the studio itself."""

from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from studio.actions.history import change
from studio.errors import Refused
from studio.models import Person, Studio
from studio.roles import require

CHANGEABLE = {
    "name",
    "time_zone",
    "language",
    "temperature_unit",
    "units",
    "bucket_pages_open",
    "open_wall_open",
    "sg_stale_after_days",
    "station_locks_after_seconds",
    "opening_c",
    "price_per_kwh",
    "currency",
}


@transaction.atomic
def change_studio(*, by: Person, values: dict[str, Any], version: int | None = None) -> Studio:
    """What `setup` asked, and whether lids and the open wall answer visitors."""
    require(by, "studio.settings")
    unknown = set(values) - CHANGEABLE
    if unknown:
        raise Refused({f: _("This cannot be changed here.") for f in sorted(unknown)})
    studio, _is_new = Studio.objects.get_or_create(pk=1, defaults={"name": "Tilekeep"})
    return change(by=by, obj=studio, values=values, version=version)
