"""Pouring into an empty bucket: one act for the person who does it, a new fill and a transfer for the record."""

import uuid
from datetime import datetime
from decimal import Decimal

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.actions.fills import start_fill
from inventory.actions.life import transfer
from inventory.actions.stock import write_entry
from inventory.models import Bucket, Fill, Level, StockEntry
from studio.actions import change
from studio.models import Person

OF_THE_CONTAINER = ("label_read_by", "label_read_on", "child_fit_read_by", "child_fit_read_on")


@transaction.atomic
def pour_into_empty(
    *,
    by: Person,
    source: Fill,
    bucket: Bucket,
    volume_ml: Decimal | None = None,
    at: datetime | None = None,
    remark: str = "",
    id: uuid.UUID | None = None,
) -> Fill:
    """Pour from `source` into `bucket`, which holds nothing: the same glaze begins there.

    It is the same stuff, so the lot, its age and what its container says go along, with whoever read that.
    """
    moment = at or timezone.now()
    target = start_fill(
        by=by,
        bucket=bucket,
        glaze=source.glaze,
        started_at=moment,
        lot=source.lot,
        made_on=source.made_on,
        label=source.label,
        label_condition=source.label_condition,
        child_fit=source.child_fit,
    )
    read = {field: getattr(source, field) for field in OF_THE_CONTAINER}
    if any(read.values()):
        reason = _("Poured from bucket %(code)s.") % {"code": source.bucket.code}
        change(by=by, obj=target, values=read, reason=reason)
    # It was empty: so a measured pour is all that is in it.
    empty = StockEntry(kind=StockEntry.Kind.LEVEL, level=Level.EMPTY, at=moment)
    write_entry(by=by, fill=target, entry=empty)
    transfer(by=by, source=source, target=target, volume_ml=volume_ml, at=moment, remark=remark, id=id)
    target.refresh_from_db()
    return target
