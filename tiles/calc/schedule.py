"""A firing schedule as numbers: segments of a rate, a temperature to go to and a hold, and the path they make.

What a kiln is meant to do, never what it will do: where no rate is given it goes as fast as it can, and
that is known only from its own firings. The software draws and reckons; it commands no kiln.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import isfinite
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tiles.calc.pace import ASSUMED, Pace, climbing

START_C = 20.0  # a room
# A closed kiln left to itself, over its whole way down; nearer the room it is slower. Common practice.
FASTEST_COOLING_C_PER_H = 100.0

# The same for the first hour after the top, while it glows: what then still works on the cones. Common practice.
GLOWING_COOLING_C_PER_H = 200.0

MOST_SEGMENTS = 20
LOWEST_C, HIGHEST_C = 20.0, 1400.0
SLOWEST_RATE, HIGHEST_RATE = 1.0, 1500.0
LONGEST_HOLD_MIN = 48 * 60
LONGEST_MIN = 14 * 24 * 60
TOOK = ("rate_c_per_h", "to_c", "hold_min")


class ScheduleError(ValueError):
    """A schedule cannot be: `code` says why, `row` which segment (from 1, 0 = all), `field` what of it."""

    def __init__(self, code: str, row: int = 0, field: str = "", **params: object) -> None:
        super().__init__(code)
        self.code = code
        self.row = row
        self.field = field
        self.params = params


@dataclass(frozen=True, slots=True)
class Segment:
    """Go to `to_c` (°C) at `rate_c_per_h` (°C/h, never negative; None = as fast as the kiln goes), then hold (min).

    Whether it climbs or cools follows from the temperature before it.
    """

    rate_c_per_h: float | None
    to_c: float
    hold_min: float = 0.0

    def as_row(self) -> dict[str, float | None]:
        """How it is kept: whole numbers without a point, so that the same is written the same."""
        return {
            "rate_c_per_h": None if self.rate_c_per_h is None else _plain(self.rate_c_per_h),
            "to_c": _plain(self.to_c),
            "hold_min": _plain(self.hold_min),
        }


def _plain(value: float) -> float:
    return int(value) if float(value).is_integer() else round(float(value), 1)


def segments_of(rows: Any) -> tuple[Segment, ...]:
    """Read kept rows, `{"rate_c_per_h": n or None, "to_c": n, "hold_min": n}`, as segments.

    Raises ScheduleError: not_rows, none, too_many, unknown_field, missing, not_a_number, out_of_range (with
    `low` and `high`), goes_nowhere (neither moves nor holds), too_long.

    >>> segments_of([{"rate_c_per_h": 100, "to_c": 620}])
    (Segment(rate_c_per_h=100.0, to_c=620.0, hold_min=0.0),)
    """
    if not isinstance(rows, list) or not all(isinstance(row, Mapping) for row in rows):
        raise ScheduleError("not_rows")
    if not rows:
        raise ScheduleError("none")
    if len(rows) > MOST_SEGMENTS:
        raise ScheduleError("too_many", most=MOST_SEGMENTS)
    segments = tuple(segment_of(row, n) for n, row in enumerate(rows, start=1))
    before = START_C
    for n, segment in enumerate(segments, start=1):
        if segment.to_c == before and not segment.hold_min:
            raise ScheduleError("goes_nowhere", n, "to_c")
        before = segment.to_c
    if duration_min(segments) > LONGEST_MIN:
        raise ScheduleError("too_long", days=LONGEST_MIN // 1440)
    return segments


def segment_of(row: Mapping[str, Any], n: int = 1) -> Segment:
    """One kept row, the n-th, by itself. Raises ScheduleError as `segments_of` does.

    >>> segment_of({"rate_c_per_h": None, "to_c": 1100, "hold_min": 5})
    Segment(rate_c_per_h=None, to_c=1100.0, hold_min=5.0)
    """
    for name in row:
        if name not in TOOK:
            raise ScheduleError("unknown_field", n, str(name)[:40])
    rate = row.get("rate_c_per_h")
    return Segment(
        None if rate is None else _within(rate, n, "rate_c_per_h", SLOWEST_RATE, HIGHEST_RATE),
        _within(row.get("to_c"), n, "to_c", LOWEST_C, HIGHEST_C),
        _within(row.get("hold_min", 0), n, "hold_min", 0.0, LONGEST_HOLD_MIN),
    )


def _within(value: Any, n: int, field: str, low: float, high: float) -> float:
    if value is None:
        raise ScheduleError("missing", n, field)
    if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value):
        raise ScheduleError("not_a_number", n, field)
    if not low <= value <= high:
        raise ScheduleError("out_of_range", n, field, low=low, high=high)
    return float(value)


@dataclass(frozen=True, slots=True)
class Leg:
    """One segment where it lies in time: minutes from the start, and whether its rate was given or assumed.

    Of a climb as fast as the kiln goes the rate is that of the whole of it.
    """

    number: int
    from_min: float
    there_min: float
    end_min: float
    from_c: float
    to_c: float
    rate_c_per_h: float
    is_assumed: bool

    @property
    def is_cooling(self) -> bool:
        return self.to_c < self.from_c

    @property
    def hold_min(self) -> float:
        return self.end_min - self.there_min


def legs(
    segments: Sequence[Segment],
    start_c: float = START_C,
    pace: Pace = ASSUMED,
    fastest_cooling_c_per_h: float = FASTEST_COOLING_C_PER_H,
) -> tuple[Leg, ...]:
    """The segments one after another. A given rate is taken as given, even above what the kiln can do."""
    at_min, at_c, found = 0.0, start_c, []
    for number, segment in enumerate(segments, start=1):
        assumed = segment.rate_c_per_h is None and segment.to_c != at_c
        rate = segment.rate_c_per_h or fastest_cooling_c_per_h
        there = at_min + abs(segment.to_c - at_c) / rate * 60
        if assumed and segment.to_c > at_c:
            there = at_min + climbing(at_c, segment.to_c, pace)[-1][0]
            rate = (segment.to_c - at_c) / (there - at_min) * 60
        end = there + segment.hold_min
        found.append(Leg(number, at_min, there, end, at_c, segment.to_c, rate, assumed))
        at_min, at_c = end, segment.to_c
    return tuple(found)


def path(
    segments: Sequence[Segment],
    start_c: float = START_C,
    pace: Pace = ASSUMED,
    fastest_cooling_c_per_h: float = FASTEST_COOLING_C_PER_H,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Minutes from the start and °C at every corner: the start, the end of each ramp, the end of each hold.

    >>> minutes, celsius = path([Segment(100, 620, 15), Segment(None, 1020)])
    >>> minutes.tolist(), celsius.tolist()
    ([0.0, 360.0, 375.0, 495.0], [20.0, 620.0, 620.0, 1020.0])
    """
    minutes, celsius = [0.0], [float(start_c)]
    for leg in legs(segments, start_c, pace, fastest_cooling_c_per_h):
        if leg.is_assumed and not leg.is_cooling:
            corners = climbing(leg.from_c, leg.to_c, pace)
            minutes += [leg.from_min + minute for minute, _c in corners]
            celsius += [c for _minute, c in corners]
        elif leg.there_min > leg.from_min:
            minutes.append(leg.there_min)
            celsius.append(leg.to_c)
        if leg.end_min > leg.there_min:
            minutes.append(leg.end_min)
            celsius.append(leg.to_c)
    return np.array(minutes), np.array(celsius)


def duration_min(
    segments: Sequence[Segment],
    start_c: float = START_C,
    pace: Pace = ASSUMED,
    fastest_cooling_c_per_h: float = FASTEST_COOLING_C_PER_H,
) -> float:
    """Minutes from the start to the end of the last segment; cooling to the room is not in it.

    >>> duration_min([Segment(100, 620, 15)])
    375.0
    """
    found = legs(segments, start_c, pace, fastest_cooling_c_per_h)
    return found[-1].end_min if found else 0.0


def left_to_itself(
    minutes: NDArray[np.float64], celsius: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """A path with the first hour after its end, in which a closed kiln that is switched off cools by itself.

    >>> minutes, celsius = left_to_itself(*path([Segment(100, 1220)]))
    >>> minutes.tolist(), celsius.tolist()
    ([0.0, 720.0, 780.0], [20.0, 1220.0, 1020.0])
    """
    cooled = max(float(celsius[-1]) - GLOWING_COOLING_C_PER_H, LOWEST_C)
    return np.append(minutes, minutes[-1] + 60.0), np.append(celsius, cooled)


def simulated(
    segments: Sequence[Segment],
    step_min: float = 1.0,
    start_c: float = START_C,
    pace: Pace = ASSUMED,
    fastest_cooling_c_per_h: float = FASTEST_COOLING_C_PER_H,
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """The path as readings every `step_min` minutes with every corner kept, as `heat_work` takes them.

    >>> minutes, celsius = simulated([Segment(60, 23)])
    >>> celsius.tolist()
    [20.0, 21.0, 22.0, 23.0]
    """
    corners, celsius = path(segments, start_c, pace, fastest_cooling_c_per_h)
    steps = np.arange(0.0, corners[-1], step_min)
    minutes = np.unique(np.concatenate([steps, corners]))
    return minutes, np.interp(minutes, corners, celsius)
