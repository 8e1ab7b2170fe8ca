"""How a firing went besides its cone, as far as its log tells: hold at the top and cooling."""

from dataclasses import dataclass

from tiles.calc.holds import fall_over, first_fall, hold, last_climb
from tiles.calc.hot_time import HeatWorkError, tidy, time_in_cells
from tiles.logs import readings_of
from tiles.models import Firing

# Cooling is judged over the first of it, where a kiln left to itself is fastest and glazes are still soft.
FIRST_COOLING_C = 200.0


@dataclass(frozen=True, slots=True)
class Course:
    """`hold_minutes` at the top, and how fast it cooled over the first 200 °C, °C/h. None: not known."""

    hold_minutes: float | None = None
    cooling_c_per_h: float | None = None


def course_of(firing: Firing) -> Course:
    """What the log's readings tell; nothing without a log, nor of one that cannot be reckoned with."""
    readings = readings_of(firing)
    if readings is None:
        return Course()
    try:
        times, degrees = tidy(readings.minutes, readings.counted)
    except HeatWorkError:
        return Course()
    held = hold(
        time_in_cells(times, degrees),
        float(degrees.max()),
        last_climb(times, degrees),
        first_fall(times, degrees),
    )
    return Course(held.minutes, fall_over(times, degrees, FIRST_COOLING_C))
