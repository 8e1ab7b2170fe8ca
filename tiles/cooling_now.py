"""Firings that are cooling now: when each is expected at the studio's opening temperature, or why nobody can tell."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.utils import timezone

from studio.models import Studio
from tiles.calc.cooling import forecast
from tiles.calc.cooling_trouble import Trouble
from tiles.kiln_logs import fell_fastest, newest_logs
from tiles.logs import readings_of
from tiles.models import Firing

STATES = (Firing.State.FIRING, Firing.State.COOLING)
# After so long without a reading, or once it reads below, there is nothing more to wait for.
OVER = timedelta(hours=24)


@dataclass(frozen=True, slots=True)
class CoolingNow:
    """Either the three moments, or `trouble` with the moment of what is wrong where that is known."""

    firing: Firing
    to_c: int
    trouble: Trouble | None = None
    trouble_at: datetime | None = None
    middle_at: datetime | None = None
    low_at: datetime | None = None
    high_at: datetime | None = None
    last_c: float | None = None
    last_at: datetime | None = None
    heard_at: datetime | None = None

    def is_awaited(self, now: datetime) -> bool:
        """Whether it is still cooling, as far as its log says; else it is to be unloaded when somebody finds it so.

        Of a log without a clock it counts from when it was heard of last.
        """
        if self.trouble and self.trouble.code == "passed":
            return False
        heard = self.last_at or self.heard_at
        return heard is None or now - heard < OVER


def cooling_now(firings: Iterable[Firing] | None = None, now: datetime | None = None) -> list[CoolingNow]:
    """Of firings that are firing or cooling and have a log (default: all of them); those that still climb are left out.

    The number of queries is the same however many there are.
    """
    rows: Any = Firing.objects.filter(state__in=STATES, log__isnull=False).select_related("kiln", "log")
    here = list(rows.order_by("number") if firings is None else rows.filter(pk__in=[f.pk for f in firings]))
    if not here:
        return []
    to_c, now = Studio.current().opening_c, now or timezone.now()
    others = newest_logs({firing.kiln for firing in here}, without=here)
    found = [_of(firing, to_c, now, others.get(firing.kiln_id, [])) for firing in here]
    return [one for one in found if one is not None]


def _of(firing: Firing, to_c: int, now: datetime, others: list[Any]) -> CoolingNow | None:
    read, begins_at = readings_of(firing), firing.log.begins_at
    if read is None or not read.seconds.size:
        return None
    last_c, heard_at = firing.log.last_c, firing.log.last_sent_at or firing.log.created_at
    last_at = begins_at + timedelta(seconds=int(read.seconds[-1])) if begins_at else None
    since = (now - begins_at).total_seconds() if begins_at else None
    # As they were said, with what is marked as odd: that is what tells of a failing sensor.
    found = forecast(read.seconds, read.celsius, to_c, since, fell_fastest(others))
    if isinstance(found, Trouble):
        if found.code in ("climbing", "no_readings"):
            return None
        at = begins_at + timedelta(seconds=found.seconds) if begins_at and found.seconds is not None else None
        return CoolingNow(firing, to_c, found, at, last_c=last_c, last_at=last_at, heard_at=heard_at)
    if begins_at is None:
        # Elapsed times only: nobody knows on which clock.
        return CoolingNow(firing, to_c, Trouble("no_clock"), last_c=last_c, heard_at=heard_at)
    return CoolingNow(
        firing,
        to_c,
        middle_at=begins_at + timedelta(seconds=found.middle_s),
        low_at=begins_at + timedelta(seconds=found.low_s),
        high_at=begins_at + timedelta(seconds=found.high_s),
        last_c=last_c,
        last_at=last_at,
    )
