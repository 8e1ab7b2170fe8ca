"""The first write of all: the studio and its first manager."""

from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from studio.actions.history import check, record_change
from studio.actions.people import create_first_manager
from studio.errors import Refused
from studio.models import Person, Studio

FIELDS = ("name", "time_zone", "language", "temperature_unit", "units")


@transaction.atomic
def found_studio(
    *, studio: dict[str, Any], username: str, name: str, password: str, is_demo: bool = False
) -> tuple[Studio, Person]:
    """Make the studio's own row (`studio` holds FIELDS) and the first manager, with the studio's units."""
    if Studio.objects.exists():
        raise Refused(_("The studio is set up already. Log in as its manager to change it."))
    founded = check(Studio(**studio, is_demo=is_demo))
    founded.save(force_insert=True)
    record_change(
        by=None, verb="set up", obj=founded, after={field: getattr(founded, field) for field in FIELDS}
    )
    manager = create_first_manager(username=username, name=name, password=password)
    manager.temperature_unit, manager.units = founded.temperature_unit, founded.units
    manager.save(update_fields=["temperature_unit", "units"])
    return founded, manager
