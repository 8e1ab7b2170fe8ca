"""Writes about a kiln's elements and thermocouple, and what the meter said of a firing."""

import uuid
from datetime import date
from decimal import Decimal

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import change, check, record_change, touch
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.models import Firing, Kiln, PartChange


@transaction.atomic
def note_part_change(
    *,
    by: Person,
    kiln: Kiln,
    part: str,
    changed_on: date,
    firings_before: int = 0,
    remark: str = "",
    id: uuid.UUID | None = None,
    version: int | None = None,
) -> PartChange:
    """New elements or a new thermocouple: from that day on the firings are counted anew."""
    require(by, "kiln.change")
    touch(kiln, version)
    made = PartChange(
        **({"id": id} if id else {}),
        kiln=kiln,
        part=part,
        changed_on=changed_on,
        firings_before=firings_before,
        remark=remark.strip(),
    )
    happened("changed_on", changed_on, _("Write it down when the part is in."))
    check(made).save(force_insert=True)
    record_change(by=by, verb="changed a part", obj=kiln, after=_told(made))
    return made


@transaction.atomic
def take_part_change_back(*, by: Person, part_change: PartChange, reason: str = "") -> PartChange:
    """It was written down by mistake: the firings are counted as before."""
    require(by, "kiln.change")
    touch(part_change.kiln)
    part_change.refresh_from_db()
    if part_change.taken_back_at:
        raise Refused(_("This has been taken back already."))
    part_change.taken_back_at = timezone.now()
    part_change.save(update_fields=["taken_back_at"])
    record_change(
        by=by, verb="took back a part", obj=part_change.kiln, before=_told(part_change), reason=reason
    )
    return part_change


@transaction.atomic
def read_meter(*, by: Person, obj: Firing, kwh_read: Decimal | None, version: int | None = None) -> Firing:
    """What the meter says a firing took; None where that was wrong and is not known after all."""
    require(by, "firing.log")
    if obj.state in Firing.TAKES_TILES and kwh_read is not None:
        raise Refused({"kwh_read": _("It has not been fired yet, so the meter cannot say what it took.")})
    return change(by=by, obj=obj, values={"kwh_read": kwh_read}, version=version)


def _told(made: PartChange) -> dict[str, object]:
    return {
        "part": str(made.get_part_display()),
        "changed on": made.changed_on,
        "firings before": made.firings_before,
        "remark": made.remark,
    }
