"""A few readings as a small line over the wanted window: geometry for `inventory/_trend.html`."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

WIDTH, TOP, BOTTOM = 300.0, 8.0, 72.0
LEAST_SPAN = 0.06  # of SG: a scatter of 0.01 must not look like a fall


@dataclass(frozen=True)
class Trend:
    """`points` from the oldest reading to the newest; `window` is (top, height) or None when none is wanted."""

    points: tuple[tuple[float, float], ...]
    window: tuple[float, float] | None

    @property
    def line(self) -> str:
        return " ".join(f"{x:g},{y:g}" for x, y in self.points)


def trend(
    readings: Sequence[tuple[datetime, Decimal]], low: Decimal | None, high: Decimal | None
) -> Trend | None:
    """Heavier is higher, time runs to the right; None below two readings, which show no trend.

    >>> at = lambda day: datetime(2026, 3, day)
    >>> trend([(at(1), Decimal("1.50")), (at(3), Decimal("1.44"))], None, None).points
    ((8.0, 8.0), (292.0, 72.0))
    """
    if len(readings) < 2:
        return None
    ordered = sorted(readings)
    shown = [float(sg) for _at, sg in ordered] + [float(end) for end in (low, high) if end is not None]
    middle, span = (min(shown) + max(shown)) / 2, max(max(shown) - min(shown), LEAST_SPAN)
    first, last = ordered[0][0], ordered[-1][0]
    seconds = (last - first).total_seconds() or 1.0

    def y(sg: Decimal) -> float:
        return round((TOP + BOTTOM) / 2 - (float(sg) - middle) / span * (BOTTOM - TOP), 1)

    def x(moment: datetime) -> float:
        return round(8 + (moment - first).total_seconds() / seconds * (WIDTH - 16), 1)

    window = None if low is None or high is None else (y(high), round(max(y(low) - y(high), 1.0), 1))
    return Trend(tuple((x(moment), y(sg)) for moment, sg in ordered), window)
