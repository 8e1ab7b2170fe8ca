"""How a fill ends."""

from datetime import datetime
from decimal import Decimal

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.actions.jars import act_on
from inventory.models import Fill, Level
from studio.actions import check, record_change, touch
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from studio.roles import require


@transaction.atomic
def end_fill(
    *, by: Person, fill: Fill, why: str, ended_at: datetime | None = None, version: int | None = None
) -> Fill:
    """The bucket is empty of this. Its readings, flags and layers stay."""
    require(by, act_on(fill.bucket, by, "fill.change"))
    happened("ended_at", ended_at)
    touch(fill, version)
    fill.refresh_from_db()
    if fill.ended_at:
        raise Refused(_("This fill has ended already."))
    if ended_at is not None and ended_at < fill.started_at:
        raise Refused({"ended_at": _("It cannot have ended before it began.")})
    fill.ended_at, fill.ended_why, fill.level, fill.balance_ml = (
        ended_at or timezone.now(),
        why,
        Level.EMPTY,
        Decimal(0),
    )
    check(fill).save()
    record_change(by=by, verb="ended", obj=fill, after={"ended_at": fill.ended_at}, reason=why)
    return fill
