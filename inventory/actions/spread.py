"""Flags that follow transfers: what was wrong in one bucket is wrong where it was poured.

The first flag is the origin; each fill that it reaches through transfers carries a flag of its own that names it.
Clearing the origin as *mistaken* lifts them all; a reached bucket can be put right by itself.
"""

from datetime import datetime
from typing import Any

from django.utils import timezone
from django.utils.translation import gettext as _

from inventory.calc.reach import Transfer, reach
from inventory.models import Fill, Flag, StockEntry
from studio.actions import check, record_change, touch
from studio.models import Person, Studio

SPREADING = (Flag.Kind.CONTAMINATED, Flag.Kind.WRONG_LABEL, Flag.Kind.NOT_FOR_FOOD)
LIFTED = (Flag.Outcome.MISTAKEN, Flag.Outcome.WITHDRAWN)


def queue_up() -> None:
    """Writes that walk from bucket to bucket take one lock first, so that two of them cannot wait for each other."""
    Studio.objects.select_for_update().filter(pk=1).first()


def transfers_out_of(fill: Fill) -> dict[Any, StockEntry]:
    """Every transfer that something in `fill` can have gone through, by (source, target, at)."""
    found: dict[Any, StockEntry] = {}
    frontier = {fill.pk}
    seen: set = set()
    while frontier:
        rows = StockEntry.objects.filter(kind=StockEntry.Kind.TRANSFER, source_fill__in=frontier)
        seen |= frontier
        frontier = set()
        for row in rows.select_related(
            "fill__bucket", "fill__glaze", "source_fill__bucket", "source_fill__glaze"
        ):
            found[(row.source_fill_id, row.fill_id, row.at)] = row
            if row.fill_id not in seen:
                frontier.add(row.fill_id)
    return found


def reached(origin: Flag) -> dict[Any, tuple[datetime, StockEntry]]:
    """Fills that `origin` reaches: fill id -> (since when, through which entry)."""
    if origin.kind not in SPREADING or origin.outcome in LIFTED:
        return {}
    rows = transfers_out_of(origin.fill)
    mended: dict[Any, list[datetime]] = {}
    mendings = origin.carried.filter(outcome=Flag.Outcome.PUT_RIGHT).values_list("fill", "put_right_at")
    for fill, put_right_at in mendings:
        if put_right_at is not None:
            mended.setdefault(fill, []).append(put_right_at)
    steps = [Transfer(source, target, at) for source, target, at in rows]
    found = reach(origin.fill_id, origin.since, origin.put_right_at, steps, mended)
    by_target: dict[tuple[Any, datetime], StockEntry] = {(row.fill_id, row.at): row for row in rows.values()}
    return {fill: (at, by_target[(fill, at)]) for fill, at in found.items()}


def spread(origin: Flag, *, by: Person) -> None:
    """Make the carried flags of `origin` what its reach says, within the caller's transaction."""
    wanted = reached(origin)
    carried = list(origin.carried.select_related("fill__bucket", "fill__glaze").order_by("created_at"))
    for child in carried:
        if origin.outcome in LIFTED or (child.is_open and child.fill_id not in wanted):
            _lift(child, by=by, origin=origin)
    standing = [c for c in carried if c.outcome not in LIFTED]
    for fill_id, (since, entry) in sorted(wanted.items(), key=lambda item: item[1][0]):
        mine = [c for c in standing if c.fill_id == fill_id]
        open_one = next((c for c in mine if c.is_open), None)
        if open_one is not None:
            if (open_one.since, open_one.through_id) != (since, entry.pk):
                open_one.since, open_one.through = since, entry
                open_one.save(update_fields=["since", "through"])
            continue
        # Emptied stays emptied; put right holds until something spoiled is poured in again.
        if any(c.put_right_at is None or c.put_right_at >= since for c in mine):
            continue
        _carry(origin, entry=entry, since=since, by=by)


def _carry(origin: Flag, *, entry: StockEntry, since: datetime, by: Person) -> None:
    note = _("Poured in from bucket %(code)s, which is flagged.") % {"code": entry.source_fill.bucket.code}  # type: ignore[union-attr]
    child = Flag(
        fill=entry.fill,
        kind=origin.kind,
        note=note,
        since=since,
        raised_by=origin.raised_by,
        origin=origin,
        through=entry,
    )
    check(child).save(force_insert=True)
    touch(entry.fill)
    record_change(
        by=by, verb="flagged", obj=entry.fill, after={"kind": origin.kind, "since": since}, reason=note
    )


def _lift(child: Flag, *, by: Person, origin: Flag) -> None:
    if child.outcome in LIFTED:
        return
    before = child.outcome
    child.outcome, child.put_right_at = Flag.Outcome.MISTAKEN, None
    child.outcome_note = _("The flag that it came from does not reach here: %(origin)s.") % {"origin": origin}
    child.closed_at, child.closed_by = timezone.now(), by
    child.save()
    touch(child.fill)
    record_change(
        by=by,
        verb="cleared a flag",
        obj=child.fill,
        before={"kind": child.kind, "outcome": before},
        after={"outcome": child.outcome},
        reason=child.outcome_note,
    )
