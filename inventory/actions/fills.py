"""Writes about what is in a bucket: filling, ending, readings, stock entries, the label."""

import uuid
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.actions.jars import act_on
from inventory.models import Bucket, Fill, Glaze, Label, Level, Reading, StockEntry
from studio.actions import change, check, create, record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require

# How full a bucket looks, as a share of its capacity (by eye, to about an eighth).
SHARE = {
    Level.FULL: Decimal(1),
    Level.THREE_QUARTERS: Decimal("0.75"),
    Level.HALF: Decimal("0.5"),
    Level.QUARTER: Decimal("0.25"),
    Level.NEARLY_EMPTY: Decimal("0.08"),
    Level.EMPTY: Decimal(0),
}


def _not_in_future(field: str, moment: datetime | None) -> None:
    if moment is not None and moment > timezone.now() + timedelta(minutes=5):
        raise Refused({field: _("This lies in the future. Give the moment at which it happened.")})


def _made_by_now(made_on: date | None) -> None:
    if made_on is not None and made_on > timezone.localdate():
        raise Refused(
            {"made_on": _("This lies in the future. Give the day on which it was mixed or opened.")}
        )


def _label_fits(glaze: Glaze, label: str) -> None:
    if label and glaze.origin == Glaze.Origin.MIXED:
        raise Refused(
            {
                "label": _(
                    "A glaze mixed here has no container label. Keep what its author says as a claim on the glaze."
                )
            }
        )


@transaction.atomic
def start_fill(
    *,
    by: Person,
    bucket: Bucket,
    glaze: Glaze,
    id: uuid.UUID | None = None,
    started_at: datetime | None = None,
    level: str = "",
    label: str = "",
    **fields: Any,
) -> Fill:
    """Put a glaze into an empty bucket."""
    require(by, act_on(bucket, by, "fill.change"))
    _not_in_future("started_at", started_at)
    _made_by_now(fields.get("made_on"))
    _label_fits(glaze, label)
    touch(bucket)
    if bucket.archived_at:
        raise Refused({"bucket": _("This bucket was put away. Choose one that stands on the shelf.")})
    if Fill.objects.filter(bucket=bucket, ended_at=None).exists():
        raise Refused({"bucket": _("This bucket is full of something else: end that first.")})
    fill = Fill(bucket=bucket, glaze=glaze, started_at=started_at or timezone.now(), label=label, **fields)
    if id:
        fill.id = id
    if label:
        fill.label_read_by, fill.label_read_on = by, timezone.localdate()
    create(
        by=by,
        obj=fill,
        fields=["bucket", "glaze", "lot", "made_on", "started_at", "label", "label_condition"],
    )
    if level:
        filled = StockEntry(kind=StockEntry.Kind.FILLED, level=level, at=fill.started_at)
        _write_stock(by=by, fill=fill, entry=filled)
    return fill


@transaction.atomic
def change_fill(*, by: Person, obj: Fill, values: dict[str, Any], version: int | None = None) -> Fill:
    """Lot, dates, remark or label. Who read a label is written with it."""
    require(by, act_on(obj.bucket, by, "fill.change"))
    if "glaze" in values or "bucket" in values:
        raise Refused(_("What is in a bucket is not changed afterwards: end this fill and start another."))
    _made_by_now(values.get("made_on"))
    _label_fits(obj.glaze, values.get("label", ""))
    # What the row says, not the caller's copy: a form may have written upon that one.
    stored = Fill.objects.select_for_update().get(pk=obj.pk)
    if stored.label == Label.NOT_FOR_FOOD and values.get("label", stored.label) != Label.NOT_FOR_FOOD:
        raise Refused(
            {
                "label": _(
                    "A “not for food” label is not overwritten. End this fill, and start one with the new container."
                )
            }
        )
    reading = {"label": stored.label, "label_condition": stored.label_condition}
    if "label" in values and {**reading, **{f: values[f] for f in reading if f in values}} != reading:
        values = {**values, "label_read_by": by if values["label"] else None}
        values["label_read_on"] = timezone.localdate() if values["label"] else None
    return change(by=by, obj=obj, values=values, version=version)


@transaction.atomic
def end_fill(
    *, by: Person, fill: Fill, why: str, ended_at: datetime | None = None, version: int | None = None
) -> Fill:
    """The bucket is empty of this. Its readings, flags and layers stay."""
    require(by, act_on(fill.bucket, by, "fill.change"))
    _not_in_future("ended_at", ended_at)
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


@transaction.atomic
def add_reading(
    *,
    by: Person,
    fill: Fill,
    specific_gravity: Decimal,
    id: uuid.UUID | None = None,
    taken_at: datetime | None = None,
    method: str = Reading.Method.WEIGHED,
    remark: str = "",
) -> Reading:
    """Record a specific gravity."""
    require(by, "reading.add")
    _not_in_future("taken_at", taken_at)
    touch(fill)
    reading = Reading(
        fill=fill,
        by=by,
        specific_gravity=specific_gravity,
        taken_at=taken_at or timezone.now(),
        method=method,
        remark=remark,
    )
    if id:
        reading.id = id
    check(reading).save(force_insert=True)
    record_change(
        by=by, verb="measured", obj=fill, after={"specific_gravity": specific_gravity}, reason=remark
    )
    return reading


@transaction.atomic
def add_stock_entry(*, by: Person, fill: Fill, **fields: Any) -> StockEntry:
    """A movement or a level. An entry that overdraws is kept and asks for a look."""
    require(by, "stock.add")
    _not_in_future("at", fields.get("at"))
    touch(fill)
    fill.refresh_from_db()
    if fill.ended_at:
        raise Refused(_("This fill has ended. Scan the bucket again for what is in it now."))
    return _write_stock(by=by, fill=fill, entry=StockEntry(**fields))


def _level_after(fill: Fill, entry: StockEntry) -> str:
    """The level that the volume speaks of: a bucket seen empty and then filled is not empty any more."""
    if fill.balance_ml is None:
        filled_up = fill.level == Level.EMPTY and (entry.volume_ml or 0) > 0
        return "" if filled_up else fill.level
    if fill.balance_ml <= 0:
        return Level.EMPTY
    if not fill.bucket.capacity_ml:
        return ""
    share = fill.balance_ml / fill.bucket.capacity_ml
    return min(
        (level for level in SHARE if level != Level.EMPTY), key=lambda level: abs(SHARE[level] - share)
    )


def _write_stock(*, by: Person, fill: Fill, entry: StockEntry) -> StockEntry:
    """Insert the entry and move the stored balance with it, within the caller's transaction."""
    entry.fill, entry.by = fill, by
    measures = entry.kind in (StockEntry.Kind.LEVEL, StockEntry.Kind.FILLED)
    if measures:
        if entry.volume_ml is None and entry.level and fill.bucket.capacity_ml:
            share = SHARE[Level(entry.level)] * fill.bucket.capacity_ml
            entry.volume_ml = share.quantize(Decimal("0.1"))
        fill.balance_ml = entry.volume_ml
    elif entry.volume_ml is not None:
        if entry.kind in (StockEntry.Kind.TAKEN_OUT, StockEntry.Kind.DISCARDED):
            entry.volume_ml = -abs(entry.volume_ml)
        if fill.balance_ml is not None:
            fill.balance_ml += entry.volume_ml
            entry.asks_for_a_look = fill.balance_ml < 0
    fill.level = entry.level or _level_after(fill, entry)
    check(entry).save(force_insert=True)
    fill.save(update_fields=["balance_ml", "level"])
    record_change(
        by=by,
        verb="stock",
        obj=fill,
        after={"kind": entry.kind, "volume_ml": entry.volume_ml, "level": entry.level},
    )
    return entry
