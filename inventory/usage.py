"""How a fill is used up, read from its stock entries: when it runs out, what dried away, what asks for a look."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal

from django.utils import timezone

from inventory.calc.balance import running_ml
from inventory.calc.forecast import RunsOut, runs_out
from inventory.calc.slurry import SgError, thickened_sg
from inventory.models import Fill, Reading, StockEntry

FILL_UPS = (StockEntry.Kind.FILLED, StockEntry.Kind.TOPPED_UP, StockEntry.Kind.TRANSFER)
# Water put right is no use and no fill-up: what was seen before it is moved along.
WATERS = (StockEntry.Kind.WATER, StockEntry.Kind.POURED_OFF)
# A level by eye is good to about an eighth of the bucket; a rise beyond that is a fill-up that nobody noted.
BY_EYE = Decimal("0.125")


def running(entries: Iterable[StockEntry]) -> list[tuple[StockEntry, Decimal | None]]:
    """The entries of one fill in the order of their moments, each with the volume after it."""
    by_order = {entry.movement.order: entry for entry in entries}
    return [
        (by_order[movement.order], volume)
        for movement, volume in running_ml(e.movement for e in by_order.values())
    ]


def volume_at(fill: Fill, moment: datetime) -> Decimal | None:
    """What was in the bucket at a moment; from the prefetched entries where there are any."""
    known = [volume for entry, volume in running(fill.stock_entries.all()) if entry.at <= moment]
    return known[-1] if known else None


def since_fill_up(fill: Fill) -> list[tuple[datetime, Decimal]]:
    """(moment, mL) since it was last filled up, as far as the volume was known without a gap."""
    points: list[tuple[datetime, Decimal]] = []
    for entry, volume in running(fill.stock_entries.all()):
        if volume is None:
            points = []
            continue
        if entry.kind in WATERS and entry.volume_ml is not None:
            points = [(at, ml + entry.volume_ml) for at, ml in points]
            continue
        if points:
            rise = volume - points[-1][1]
            unnoted = entry.kind == StockEntry.Kind.LEVEL and rise > BY_EYE * (
                fill.bucket.capacity_ml or points[-1][1]
            )
            if entry.kind in FILL_UPS or unnoted:
                points = []
        points.append((entry.at, volume))
    return points


def forecast(fill: Fill, now: datetime | None = None) -> RunsOut | None:
    """Days from now until nothing is left, with an 80 % interval; None when it cannot be said."""
    points = since_fill_up(fill)
    if not points:
        return None
    first, last = points[0][0], points[-1][0]
    found = runs_out([((at - first).total_seconds() / 86400, float(ml)) for at, ml in points])
    if found is None:
        return None
    gone = max(0.0, ((now or timezone.now()) - last).total_seconds() / 86400)
    return replace(
        found,
        days=max(0.0, found.days - gone),
        low=max(0.0, found.low - gone),
        high=None if found.high is None else max(0.0, found.high - gone),
    )


def look_wanted(fill: Fill) -> StockEntry | None:
    """The newest entry that took more than there was, until a level has been measured after it."""
    for entry in fill.stock_entries.all():  # newest first
        if entry.kind in StockEntry.MEASURES:
            return None
        if entry.asks_for_a_look:
            return entry
    return None


@dataclass(frozen=True)
class Evaporated:
    """An estimate: what levels fell short of the count since `reading`, and the SG if all of that was water."""

    reading: Reading
    lost_ml: Decimal
    volume_ml: Decimal
    sg: Decimal | None


def evaporated(fill: Fill) -> Evaporated | None:
    """Water gone into the air since the last reading, if levels fell and nothing was taken out unnoted; else None.

    Water lost or put in thickens or thins what is there at that moment; glaze put in is of a gravity nobody knows.
    """
    reading = fill.readings.first()
    if reading is None:
        return None
    lost, before = Decimal(0), None
    sg: float | None = float(reading.specific_gravity)
    for entry, volume in running(fill.stock_entries.all()):
        if entry.at > reading.taken_at:
            if entry.kind == StockEntry.Kind.LEVEL and before is not None and volume is not None:
                lost += before - volume
                sg = _thickened(sg, before, volume)
            elif entry.kind in WATERS:
                sg = _thickened(sg, before, volume)
            elif entry.kind in FILL_UPS:
                sg = None
        before = volume
    if before is None or before <= 0 or lost <= 0:
        return None
    return Evaporated(reading, lost, before, None if sg is None else Decimal(sg).quantize(Decimal("0.01")))


def _thickened(sg: float | None, before_ml: Decimal | None, after_ml: Decimal | None) -> float | None:
    if sg is None or before_ml is None or after_ml is None:
        return None
    try:
        return thickened_sg(sg, before_ml, before_ml - after_ml)
    except SgError:
        return None
