"""Writes about what is in a bucket: filling, readings, what its container says."""

import uuid
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.actions.containers import READ, warn
from inventory.actions.jars import act_on
from inventory.actions.spread import queue_up
from inventory.actions.stock import write_entry
from inventory.models import Bucket, ChildFit, Fill, Glaze, Label, Reading, StockEntry
from studio.actions import change, check, create, record_change, touch
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from studio.roles import require


def _made_by_now(made_on: date | None) -> None:
    happened("made_on", made_on, _("Give the day on which it was mixed or opened."))


def _container_speaks(glaze: Glaze, *, label: str, child_fit: str) -> None:
    if glaze.origin != Glaze.Origin.MIXED:
        return
    if label:
        raise Refused(
            {
                "label": _(
                    "A glaze mixed here has no container label. Keep what its author says as a claim on the glaze."
                )
            }
        )
    if child_fit:
        raise Refused(
            {"child_fit": _("A glaze mixed here has no container that could name it fit for children.")}
        )


def _readers(by: Person, obj: Fill, values: dict[str, Any]) -> dict[str, Any]:
    """Who read what is new in `values`, and when; whoever changes something else is no reader."""
    found: dict[str, Any] = {}
    for field, together in READ.items():
        if field in values and any(values.get(f, getattr(obj, f)) != getattr(obj, f) for f in together):
            read = bool(values[field])
            found[f"{field}_read_by"] = by if read else None
            found[f"{field}_read_on"] = timezone.localdate() if read else None
    return found


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
    child_fit: str = "",
    **fields: Any,
) -> Fill:
    """Put a glaze into an empty bucket."""
    require(by, act_on(bucket, by, "fill.change"))
    happened("started_at", started_at)
    _made_by_now(fields.get("made_on"))
    _container_speaks(glaze, label=label, child_fit=child_fit)
    touch(bucket)
    bucket.refresh_from_db()  # somebody may have put it away
    if bucket.archived_at:
        raise Refused({"bucket": _("This bucket was put away. Choose one that stands on the shelf.")})
    if Fill.objects.filter(bucket=bucket, ended_at=None).exists():
        raise Refused({"bucket": _("This bucket is full of something else: end that first.")})
    fill = Fill(bucket=bucket, glaze=glaze, started_at=started_at or timezone.now(), **fields)
    if id:
        fill.id = id
    read = {"label": label, "child_fit": child_fit}
    for field, value in {**_readers(by, fill, read), **read}.items():
        setattr(fill, field, value)
    create(
        by=by,
        obj=fill,
        fields=["bucket", "glaze", "lot", "made_on", "started_at", "label", "label_condition", "child_fit"],
    )
    if level:
        write_entry(
            by=by, fill=fill, entry=StockEntry(kind=StockEntry.Kind.FILLED, level=level, at=fill.started_at)
        )
    return fill


@transaction.atomic
def change_fill(*, by: Person, obj: Fill, values: dict[str, Any], version: int | None = None) -> Fill:
    """Lot, dates, remark, or what the container says. Who read that is written with it."""
    require(by, act_on(obj.bucket, by, "fill.change"))
    if "glaze" in values or "bucket" in values:
        raise Refused(_("What is in a bucket is not changed afterwards: end this fill and start another."))
    _made_by_now(values.get("made_on"))
    _container_speaks(obj.glaze, label=values.get("label", ""), child_fit=values.get("child_fit", ""))
    if values.get("label") == Label.NOT_FOR_FOOD:
        queue_up()
    # What the row says, not the caller's copy: a form may have written upon that one.
    stored = Fill.objects.select_for_update().get(pk=obj.pk)
    if stored.label == Label.NOT_FOR_FOOD and values.get("label", stored.label) != Label.NOT_FOR_FOOD:
        raise Refused(
            {
                "label": _(
                    "A “not for food” label is not overwritten. If it was misread, take it back with a reason; for "
                    "another container end this fill and start one."
                )
            }
        )
    if stored.child_fit == ChildFit.NO and values.get("child_fit", stored.child_fit) != ChildFit.NO:
        raise Refused(
            {
                "child_fit": _(
                    "That a container warns against children is not overwritten. End this fill, and start one "
                    "with the new container."
                )
            }
        )
    changed = change(by=by, obj=obj, values={**values, **_readers(by, stored, values)}, version=version)
    if changed.label == Label.NOT_FOR_FOOD != stored.label:
        for entry in changed.passed_on.select_related("fill", "source_fill__bucket").order_by("at"):
            warn(by=by, entry=entry)
    return changed


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
    happened("taken_at", taken_at)
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
