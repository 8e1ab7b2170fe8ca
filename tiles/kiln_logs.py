"""How fast kilns climbed and fell in earlier firings: what plans and falling readings are measured by."""

from collections.abc import Iterable
from typing import Any

from django.db.models import F, Window
from django.db.models.functions import RowNumber

from tiles.calc.cooling_trouble import fastest_falls
from tiles.calc.pace import Pace, pace_of, seen_climbs
from tiles.logs import unpacked
from tiles.models import FiringLog, Kiln

# So many of a kiln's newest logs say how fast it ever cooled.
REMEMBERED = 8


def fell_fastest(logs: Iterable[FiringLog]) -> dict[int, float]:
    """How fast a kiln fell in any of these logs, in °C/h by hundreds of degrees."""
    found: dict[int, float] = {}
    for log in logs:
        read = unpacked(log, log.firing)
        for band, fall in fastest_falls(read.seconds, read.counted).items():
            found[band] = max(found.get(band, 0.0), fall)
    return found


def climbed_fastest(logs: Iterable[FiringLog]) -> Pace:
    """How fast a kiln climbed in any of these logs; empty where none of them tells."""
    read = [unpacked(log, log.firing) for log in logs]
    return pace_of(seen_climbs(each.seconds, each.counted) for each in read)


def newest_logs(kilns: Iterable[Kiln], without: Iterable[Any] = ()) -> dict[Any, list[FiringLog]]:
    """Up to REMEMBERED newest logs of each kiln by its key, in one query; without those of some firings."""
    rows: Any = FiringLog.objects.filter(firing__kiln__in=list(kilns)).exclude(firing__in=list(without))
    newest = Window(RowNumber(), partition_by=F("firing__kiln"), order_by=F("firing__number").desc())
    found: dict[Any, list[FiringLog]] = {}
    for log in rows.select_related("firing").annotate(nth=newest).filter(nth__lte=REMEMBERED):
        found.setdefault(log.firing.kiln_id, []).append(log)
    return found
