"""Planning a firing and correcting the plan."""

import uuid
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils.translation import gettext as _

from studio.actions import change, create
from studio.actions.moments import planned
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.evidence import refresh_cones
from tiles.actions.schedules import plan_of
from tiles.actions.stops import open_stops, stops_for_body
from tiles.models import Firing, Kiln


@transaction.atomic
def plan_firing(*, by: Person, id: uuid.UUID | None = None, **fields: Any) -> Firing:
    """A new firing with the studio's next number; refused where the kiln cannot reach the target.

    `plan_from` is a schedule whose segments it takes over, `plan` are segments of its own.
    """
    require(by, "firing.change")
    planned("planned_on", fields.get("planned_on"))
    fields = plan_of(fields)
    # Who plans at the same moment queues here, so that the next number is read only when the last one is written.
    list(Kiln.objects.select_for_update().order_by("pk").values_list("pk"))
    number = (Firing.objects.aggregate(last=Max("number"))["last"] or 0) + 1
    firing = Firing(**({"id": id} if id else {}), number=number, **fields)
    _kiln_reaches(firing)
    return create(by=by, obj=firing, fields=["number", *fields])


def _kiln_reaches(firing: Firing) -> None:
    if firing.kiln_id is None or firing.target_cone is None:
        return
    if stops := stops_for_body(firing, None):
        raise Refused({"target_cone": list(stops)})


@transaction.atomic
def change_firing(*, by: Person, obj: Firing, values: dict[str, Any], version: int | None = None) -> Firing:
    """Correct a firing; what its tiles saw is worked out anew."""
    require(by, "firing.change")
    planned("planned_on", values.get("planned_on"))
    before = (obj.kiln_id, obj.kind, obj.target_cone)
    changed = change(by=by, obj=obj, values=plan_of(values), version=version)
    if changed.takes_tiles and before != (changed.kiln_id, changed.kind, changed.target_cone):
        _kiln_reaches(changed)
        _bodies_fit(changed)
    refresh_cones(changed)
    return changed


def _bodies_fit(firing: Firing) -> None:
    """What went in before its cone was changed is held to the same rule as what goes in now."""
    if outside := [stopped.what for stopped in open_stops(firing)]:
        said = _("This does not suit the clay body of %(what)s. Take that out first, or choose another.")
        raise Refused({"target_cone": said % {"what": ", ".join(outside)}})
