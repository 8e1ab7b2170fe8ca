"""Stock entries and the stored balance. Every entry is kept; the balance is counted anew from all of them."""

import uuid
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from inventory.actions.containers import topped_up
from inventory.models import Fill, Level, Reading, StockEntry
from inventory.usage import running
from studio.actions import check, record_change, touch
from studio.actions.moments import happened
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


# What has an action of its own.
ELSEWHERE = (StockEntry.Kind.TRANSFER, StockEntry.Kind.MOVED_ON, StockEntry.Kind.FILLED)


def above_nothing(field: str, amount_ml: Decimal | None) -> None:
    if amount_ml is not None and amount_ml <= 0:
        raise Refused({field: _("Give an amount above 0 mL.")})


def still_there(fill: Fill) -> None:
    """Ask it of the row as it is under the lock."""
    if fill.ended_at:
        raise Refused(_("This fill has ended. Scan the bucket again for what is in it now."))


def level_of(volume_ml: Decimal | None, capacity_ml: int | None) -> str:
    """The word for a counted volume: the nearest of the six; '' when it cannot be said."""
    if volume_ml is not None and volume_ml <= 0:
        return Level.EMPTY
    if volume_ml is None or not capacity_ml:
        return ""
    share = volume_ml / capacity_ml
    if share < Decimal("0.02"):
        return Level.EMPTY
    return min((w for w in SHARE if w != Level.EMPTY), key=lambda word: abs(SHARE[word] - share))


def rebalance(fill: Fill) -> None:
    """Count the volume and its word anew, in the order of the entries' moments, under the caller's lock."""
    fill.balance_ml, fill.level = None, ""
    for entry, volume_ml in running(fill.stock_entries.all()):
        fill.level = _level_after(fill, entry, volume_ml)
        fill.balance_ml = volume_ml
    fill.save(update_fields=["balance_ml", "level"])


def _level_after(fill: Fill, entry: StockEntry, volume_ml: Decimal | None) -> str:
    """What was seen, else the word for the counted volume, else the word before while that can still be true."""
    if entry.level and (entry.kind in entry.MEASURES or volume_ml is None):
        return entry.level
    if volume_ml is not None:
        return level_of(volume_ml, fill.bucket.capacity_ml)
    return "" if fill.level == Level.EMPTY and entry.kind in entry.BRINGS else fill.level


def _measured_volume(fill: Fill, entry: StockEntry) -> Decimal | None:
    """The volume that a weight, a dipstick or a look comes to; Refused says what is missing."""
    bucket = fill.bucket
    if entry.gross_g is not None:
        reading = Reading.objects.filter(fill=fill).first()
        if bucket.tare_g is None:
            raise Refused(
                {"gross_g": _("Note first what the empty bucket weighs, on the bucket's own page.")}
            )
        if reading is None:
            raise Refused(
                {"gross_g": _("Read the specific gravity first: without it a weight is no volume.")}
            )
        if entry.gross_g < bucket.tare_g:
            raise Refused(
                {
                    "gross_g": _("This is less than the empty bucket weighs (%(tare)s g). Weigh again.")
                    % {"tare": bucket.tare_g}
                }
            )
        return ((entry.gross_g - bucket.tare_g) / reading.specific_gravity).quantize(Decimal("0.1"))
    if entry.depth_mm is not None:
        if not (bucket.inner_height_mm and bucket.capacity_ml):
            raise Refused({"depth_mm": _("Note first how high the bucket is inside and how much it holds.")})
        if entry.depth_mm > bucket.inner_height_mm:
            raise Refused(
                {
                    "depth_mm": _("The bucket is only %(height)s mm high inside. Measure again.")
                    % {"height": bucket.inner_height_mm}
                }
            )
        return (Decimal(entry.depth_mm) / bucket.inner_height_mm * bucket.capacity_ml).quantize(
            Decimal("0.1")
        )
    if entry.volume_ml is None and entry.level and bucket.capacity_ml:
        return (SHARE[Level(entry.level)] * bucket.capacity_ml).quantize(Decimal("0.1"))
    return entry.volume_ml


def write_entry(
    *, by: Person, fill: Fill, entry: StockEntry, actor_name: str = "", **history: Any
) -> StockEntry:
    """Insert one entry and move the stored balance with it, within the caller's transaction and lock on the fill."""
    entry.fill, entry.by = fill, by
    if entry.kind in entry.MEASURES:
        entry.volume_ml = _measured_volume(fill, entry)
        if entry.volume_ml is not None and entry.volume_ml < 0:
            raise Refused({"volume_ml": _("A level cannot be below nothing.")})
    elif entry.volume_ml is not None and (entry.volume_ml > 0) != (entry.kind in entry.BRINGS):
        raise Refused({"volume_ml": _("Give an amount above 0 mL.")})
    check(entry).save(force_insert=True)
    rebalance(fill)
    if fill.balance_ml is not None and fill.balance_ml < 0:
        # Kept all the same: somebody did take it out. The number before it was wrong, so it asks for a look.
        entry.asks_for_a_look = True
        entry.save(update_fields=["asks_for_a_look"])
    record_change(
        by=by,
        actor_name=actor_name,
        verb="stock",
        obj=fill,
        after={"kind": entry.kind, "volume_ml": entry.volume_ml, "level": entry.level, "lot": entry.lot},
        reason=entry.remark,
        **history,
    )
    return entry


def noted_already(id: uuid.UUID | None, **said: Any) -> StockEntry | None:
    """The entry of this id, when the same was sent before; ask for it under the lock on the fill.

    Refused when it says something else: a page gone back to, with another figure typed into it.
    """
    found = StockEntry.objects.filter(pk=id).first() if id else None
    if found is not None and any(getattr(found, field) != value for field, value in said.items()):
        raise Refused(
            {
                "id": _(
                    "This page was sent before and noted, with other figures. Send it again to note these too."
                )
            }
        )
    return found


@transaction.atomic
def add_stock_entry(
    *, by: Person, fill: Fill, version: int | None = None, id: uuid.UUID | None = None, **fields: Any
) -> StockEntry:
    """A level seen or measured, or an amount taken out or put in. An entry that overdraws is kept and asks for a look.

    Amounts are given above 0; what takes is counted as taking. A transfer has its own action (it names two buckets).
    With the `id` of an entry that was made already nothing is added.
    """
    require(by, "stock.add")
    happened("at", fields.get("at"))
    if fields.get("kind") in ELSEWHERE:
        raise Refused({"kind": _("Filling and pouring from bucket to bucket have pages of their own.")})
    touch(fill, version)
    fill.refresh_from_db()
    still_there(fill)
    entry = StockEntry(id=id or uuid.uuid4(), **fields)
    if entry.kind in entry.TAKES and entry.volume_ml is not None:
        above_nothing("volume_ml", entry.volume_ml)
        entry.volume_ml = -entry.volume_ml
    said = {name: getattr(entry, name) for name in ("kind", "level", "gross_g", "depth_mm")}
    if entry.kind not in entry.MEASURES:
        said["volume_ml"] = entry.volume_ml
    made = noted_already(id, fill=fill, **said)
    if made is not None:
        return made
    entry = write_entry(by=by, fill=fill, entry=entry)
    if entry.kind == StockEntry.Kind.TOPPED_UP:
        topped_up(by=by, fill=fill, lot=entry.lot)
    return entry
