"""In what the time of a log is counted, as far as its climb tells."""

from collections.abc import Sequence
from typing import Any

import numpy as np

from tiles.calc.log_cells import clocks
from tiles.calc.readings import LONGEST_S

IN_SECONDS = {"milliseconds": 0.001, "seconds": 1, "minutes": 60, "hours": 3600, "days": 86400}
# What kilns do at most; a guess at the unit of time that needs more is not believed. Common practice.
MOST_C_PER_H = 1000
# Slower than this over a whole climb, h:mm is believed to be mm:ss. Common practice.
SLOWEST_C_PER_H = 10


def _climb(time: Any, heat: Any, unit: str) -> tuple[float, float]:
    """How far it goes up to the hottest reading, in °C, and how much time goes by, in whatever that is counted."""
    both = np.isfinite(time) & np.isfinite(heat) & (abs(heat) < 5000)
    time, heat = time[both], heat[both]
    if time.size < 2:
        return 0.0, 0.0
    top = int(np.argmax(heat))
    climb, span = float(heat[top] - heat[0]), float(abs(time[top] - time[0]))
    return climb / (1.8 if unit == "f" else 1), span


def counted_in(time: Any, heat: Any, unit: str) -> str:
    """The smallest unit with which the climb is one that a kiln can do, and no log is longer than one may be."""
    climb, span = _climb(time, heat, unit)
    if not span:
        return "seconds"
    if span > LONGEST_S:
        return "milliseconds"
    for kind in ("seconds", "minutes", "hours"):
        if climb / span / IN_SECONDS[kind] * 3600 <= MOST_C_PER_H:
            return kind
    return "days"


def is_m_s(cells: Sequence[str], heat: Any, unit: str) -> bool:
    """Two parts that would be hours and minutes, and by that no kiln climbs so slowly."""
    if any(cell.count(":") > 1 for cell in cells):
        return False
    climb, span = _climb(clocks(cells), heat, unit)
    return climb > 100 and span > 0 and climb / span * 3600 < SLOWEST_C_PER_H
