"""Writes about combinations."""

from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from studio.actions import change
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.models import Combination


@transaction.atomic
def change_combination(
    *, by: Person, obj: Combination, values: dict[str, Any], version: int | None = None
) -> Combination:
    """The studio's remark on a combination."""
    require(by, "combination.remark")
    unknown = set(values) - {"remark"}
    if unknown:
        raise Refused({f: _("Only the remark of a combination can be changed.") for f in sorted(unknown)})
    return change(by=by, obj=obj, values=values, version=version)
