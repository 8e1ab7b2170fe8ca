"""The life of a fill: top-up, transfer, water, stirring and additions, drying out and revival, washing out."""

import uuid
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.actions.containers import added_to, poured, topped_up
from inventory.actions.ending import end_fill
from inventory.actions.fills import add_reading
from inventory.actions.flags import clear_flag
from inventory.actions.jars import act_on
from inventory.actions.spread import queue_up, spread
from inventory.actions.stock import above_nothing, noted_already, still_there, write_entry
from inventory.models import Fill, Flag, StockEntry, Treatment
from studio.actions import check, record_change, touch
from studio.actions.moments import happened
from studio.errors import Refused
from studio.models import Person
from studio.roles import require


@transaction.atomic
def top_up(
    *,
    by: Person,
    fill: Fill,
    volume_ml: Decimal | None = None,
    level: str = "",
    lot: str = "",
    at: datetime | None = None,
    remark: str = "",
    id: uuid.UUID | None = None,
) -> StockEntry:
    """More of the same glaze from a batch or container. Give the amount, the level afterwards, or both."""
    require(by, act_on(fill.bucket, by, "fill.change"))
    happened("at", at)
    above_nothing("volume_ml", volume_ml)
    if volume_ml is None and not level:
        raise Refused({"volume_ml": _("Give the amount, or the level afterwards.")})
    touch(fill)
    fill.refresh_from_db()
    still_there(fill)
    made = noted_already(id, fill=fill, kind=StockEntry.Kind.TOPPED_UP, volume_ml=volume_ml)
    if made is not None:
        return made
    entry = StockEntry(
        id=id or uuid.uuid4(),
        kind=StockEntry.Kind.TOPPED_UP,
        volume_ml=volume_ml,
        lot=lot,
        at=at or timezone.now(),
        remark=remark,
    )
    entry = write_entry(by=by, fill=fill, entry=entry)
    if level:
        write_entry(by=by, fill=fill, entry=StockEntry(kind=StockEntry.Kind.LEVEL, level=level, at=entry.at))
    topped_up(by=by, fill=fill, lot=lot)
    return entry


@transaction.atomic
def transfer(
    *,
    by: Person,
    source: Fill,
    target: Fill,
    volume_ml: Decimal | None = None,
    at: datetime | None = None,
    remark: str = "",
    id: uuid.UUID | None = None,
) -> StockEntry:
    """Pour from one bucket into another of the same glaze. What is wrong in the first goes with it.

    A member may pour from the shelf into an own jar, as anybody may take glaze out.
    """
    require(by, act_on(target.bucket, by, "fill.change"))
    if source.bucket.owner_id:
        require(by, act_on(source.bucket, by, "fill.change"))
    require(by, "stock.add")
    happened("at", at)
    above_nothing("volume_ml", volume_ml)
    if source.pk == target.pk:
        raise Refused({"target": _("Choose another bucket than the one it comes out of.")})
    queue_up()
    for fill in sorted((source, target), key=lambda f: f.pk.hex):
        touch(fill)
    source.refresh_from_db()
    target.refresh_from_db()
    still_there(source)
    still_there(target)
    made = noted_already(id, fill=target, source_fill=source, volume_ml=volume_ml)
    if made is not None:
        return made
    if source.glaze_id != target.glaze_id:
        raise Refused(
            {
                "target": _(
                    "That bucket holds %(other)s. Pour %(glaze)s only into its own or into an empty bucket."
                )
                % {"other": target.glaze, "glaze": source.glaze}
            }
        )
    moment = at or timezone.now()
    if moment < max(source.started_at, target.started_at):
        raise Refused({"at": _("One of the two was not in its bucket yet at that time.")})
    taken = StockEntry(
        kind=StockEntry.Kind.MOVED_ON,
        volume_ml=None if volume_ml is None else -volume_ml,
        at=moment,
        remark=remark,
    )
    brought = StockEntry(
        id=id or uuid.uuid4(),
        kind=StockEntry.Kind.TRANSFER,
        volume_ml=volume_ml,
        source_fill=source,
        at=moment,
        remark=remark,
        lot=source.lot,
    )
    write_entry(by=by, fill=source, entry=taken)
    write_entry(by=by, fill=target, entry=brought)
    taken.pair = brought
    taken.save(update_fields=["pair"])
    for flag in Flag.objects.filter(fill=source).select_related("origin__fill", "fill__bucket"):
        spread(flag.origin or flag, by=by)
    poured(by=by, entry=brought)
    return brought


@transaction.atomic
def treat(*, by: Person, fill: Fill, **fields: Any) -> Treatment:
    """Stirred, sieved, a flocculant or deflocculant or something else added."""
    require(by, "stock.add")
    happened("at", fields.get("at"))
    touch(fill)
    fill.refresh_from_db()
    still_there(fill)
    treatment = Treatment(fill=fill, by=by, **fields)
    check(treatment).save(force_insert=True)
    record_change(by=by, verb="treated", obj=fill, after=fields, reason=treatment.remark)
    if treatment.kind in Treatment.ADDS:
        added_to(by=by, fill=fill)
    return treatment


@transaction.atomic
def revive(
    *,
    by: Person,
    fill: Fill,
    water_ml: Decimal,
    specific_gravity: Decimal | None = None,
    tool: str = "",
    mesh: int | None = None,
    remark: str = "",
) -> Treatment:
    """Bring a dried fill back with water: the water, the work, and where it is the case the flag put right."""
    require(by, "flag.clear")
    above_nothing("water_ml", water_ml)
    queue_up()  # before the fill's own lock: clearing a flag walks from bucket to bucket
    treatment = treat(
        by=by,
        fill=fill,
        kind=Treatment.Kind.REVIVED,
        amount_ml=water_ml,
        material=_("water"),
        tool=tool,
        mesh=mesh,
        remark=remark,
    )
    write_entry(by=by, fill=fill, entry=StockEntry(kind=StockEntry.Kind.WATER, volume_ml=water_ml))
    if specific_gravity is not None:
        add_reading(by=by, fill=fill, specific_gravity=specific_gravity)
    for flag in Flag.objects.filter(
        fill=fill, outcome="", kind__in=[Flag.Kind.DRIED_OUT, Flag.Kind.SETTLED_HARD]
    ):
        clear_flag(
            by=by, flag=flag, outcome=Flag.Outcome.PUT_RIGHT, note=remark or _("Brought back with water.")
        )
    return treatment


@transaction.atomic
def wash_out(*, by: Person, fill: Fill, why: str, version: int | None = None) -> Fill:
    """The rest is thrown away and the bucket washed: the entry is kept, the fill ends.

    What goes down a drain is a matter of local rules; the page says so.
    """
    require(by, act_on(fill.bucket, by, "fill.change"))
    touch(fill, version)
    fill.refresh_from_db()
    still_there(fill)
    if fill.balance_ml and fill.balance_ml > 0:
        write_entry(
            by=by,
            fill=fill,
            entry=StockEntry(kind=StockEntry.Kind.DISCARDED, volume_ml=-fill.balance_ml, remark=why[:200]),
        )
    return end_fill(by=by, fill=fill, why=why)
