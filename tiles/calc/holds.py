"""What is not known of a hold: how much of the time near the peak bends a cone.

The maker's table says nothing of holds, only of climbs, and what is published about holds differs by about four
times (fixtures/hold_statements.csv): to get from one cone to the next takes 15 or 20 minutes by some potters' tests
and 1 to 2 hours by the maker's leaflet, where the rates that follow from the table give 10 to 80 minutes from cone 4
up. So the estimate counts every minute once; the lower end of the interval counts LEAST of the time near the peak
that is not climbing, and the upper end counts MOST times what neither climbing nor falling explains.
"""

from dataclasses import dataclass

import numpy as np

from tiles.calc.cone_rates import CELL_C, CELLS, RED_C, Floats

LEAST, MOST = 1 / 3, 4.0  # how often a minute of hold counts at the ends of the interval
# How far the fit is from any published end point; the maker keeps the cones themselves within 2 °C of the standard.
TOLERANCE_C = 4.0
LAST_C = 100.0  # the published rates of climb count over the last 100 °C
SWING_C = 3.0  # this far below the peak the climb is over: a controller swings about its target
BAND_C, BIN_C = 50.0, 5.0  # a hold is looked for within BAND_C of the peak, BIN_C at a time


def _minutes_between(times: Floats, degrees: Floats, far_c: float, near_c: float) -> float | None:
    """Minutes from the last time below `far_c` to the first at `near_c`, None where the log was never so cool."""
    there = int(np.argmax(degrees >= near_c))
    cooler = np.flatnonzero(degrees[:there] < far_c)
    if not cooler.size:
        return None
    begin, end = (
        float(np.interp(mark, degrees[at : at + 2], times[at : at + 2]))
        for mark, at in ((far_c, int(cooler[-1])), (near_c, there - 1))
    )
    return end - begin


def last_climb(times: Floats, degrees: Floats) -> float | None:
    """°C/h from the last time the climb passed 100 °C below the peak until it came within 3 °C of it.

    A hold at the peak does not make it slower. None where the log begins hotter than that.

    >>> round(last_climb(np.array([0.0, 600.0, 700.0]), np.array([0.0, 1000.0, 1000.0])))
    100
    """
    peak_c = float(degrees.max())
    minutes = _minutes_between(times, degrees, peak_c - LAST_C, peak_c - SWING_C)
    return (LAST_C - SWING_C) / minutes * 60 if minutes else None


def first_fall(times: Floats, degrees: Floats) -> float | None:
    """°C/h from the last time within 3 °C of the peak down to 50 °C below it; None while that is still to come."""
    return fall_over(times, degrees, BAND_C)


def fall_over(times: Floats, degrees: Floats, first_c: float) -> float | None:
    """°C/h over the first `first_c` degrees below the peak, counted from the last time within 3 °C of it.

    None while the log does not reach so far down. A hold at the peak does not make it slower.

    >>> fall_over(np.array([0.0, 10.0, 70.0]), np.array([1000.0, 1000.0, 800.0]), 100)
    200.0
    """
    peak_c = float(degrees.max())
    minutes = _minutes_between(-times[::-1], degrees[::-1], peak_c - first_c, peak_c - SWING_C)
    return round((first_c - SWING_C) / minutes * 60, 6) if minutes else None


def share_beyond(minutes: Floats, peak_c: float, min_per_c: float) -> Floats:
    """Which part of the time in each cell near the peak goes beyond `min_per_c` minutes for each degree.

    Five degrees are judged together, because a controller swings about its target.
    """
    share = np.zeros(CELLS)
    width = round(BIN_C / CELL_C)
    top = min(int((peak_c - RED_C) / CELL_C), CELLS - 1) + 1
    for last in range(top, max(top - round(BAND_C / CELL_C), 0), -width):
        bin_ = slice(max(last - width, 0), last)
        spent = float(minutes[bin_].sum())
        if spent > min_per_c * BIN_C:
            share[bin_] = 1 - min_per_c * BIN_C / spent
    return share


def moved(minutes: Floats, degrees: float) -> Floats:
    """The same time spent `degrees` hotter (below 0: cooler), which is a cone that goes down so much sooner."""
    cells = round(abs(degrees) / CELL_C)
    found = np.zeros_like(minutes)
    if degrees > 0:
        found[cells:] = minutes[:-cells]
        found[-1] += minutes[-cells:].sum()
    else:
        found[:-cells] = minutes[cells:]
    return found


@dataclass(frozen=True, slots=True)
class Hold:
    """The time near the peak: `minutes` held there, and the time in each cell at both ends of the interval."""

    minutes: float
    least: Floats
    most: Floats


def hold(minutes: Floats, peak_c: float, climb: float | None, fall: float | None) -> Hold:
    """`minutes`: time in each cell; `climb` and `fall`: °C/h, None where not seen.

    Falling explains no more time than climbing does: a kiln that is kept from cooling at its peak is held. Both
    ends have the tolerance too, so that every published end point has its own cone in the interval.
    """
    climbing = 60 / climb if climb else 0.0
    falling = 60 / max(climb, fall) if climb and fall else 0.0
    after = share_beyond(minutes, peak_c, climbing)
    held = share_beyond(minutes, peak_c, climbing + falling)
    return Hold(
        float(minutes @ held),
        moved(minutes * (1 - after + after * LEAST), -TOLERANCE_C),
        moved(minutes * (1 - held + held * MOST), TOLERANCE_C),
    )
