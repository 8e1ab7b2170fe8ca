"""What is not known of a hold: how much of the time near the peak bends a cone.

Published statements on how long a hold bends the next cone differ by about four times either way
(fixtures/hold_statements.csv): 20 minutes by some potters, 1 to 2 hours by the maker's leaflet, where the kinetics
of the table give 13 to 80 minutes, differently for each pair of cones. The table itself says nothing of holds, only
of climbs. So the time that a log spends near its peak beyond what its own climb would have taken there is counted
once for the estimate, and LEAST and MOST times for the ends of its interval.
"""

import numpy as np

from tiles.calc.cone_rates import CELL_C, CELLS, RED_C, Floats

LEAST, MOST = 0.25, 4.0  # how often a minute of hold counts at the ends of the interval
CONE_C = 2.0  # the maker keeps every cone within 2 °C of the standard one (fixtures/SOURCES.md)
BAND_C, BIN_C = 25.0, 5.0  # a hold is looked for within BAND_C of the peak, BIN_C at a time


def held_share(minutes: Floats, peak_c: float, rate_c_per_h: float | None) -> Floats:
    """Which part of the time in each cell is hold: what a degree took beyond the climb's own time for it.

    `minutes`: time in each cell; `rate_c_per_h`: the climb's, None where it was not seen, and then everything near
    the peak is hold. Five degrees are judged together, because a controller swings a little about its target.
    """
    share = np.zeros(CELLS)
    top = min(int((peak_c - RED_C) / CELL_C), CELLS - 1)
    climbing = BIN_C / rate_c_per_h * 60 if rate_c_per_h else 0.0
    width = round(BIN_C / CELL_C)
    for step in range(round(BAND_C / BIN_C)):
        last = top + 1 - step * width
        if last <= 0:
            break
        bin_ = slice(max(last - width, 0), last)
        spent = float(minutes[bin_].sum())
        if spent > climbing:
            share[bin_] = 1 - climbing / spent
    return share


def moved(minutes: Floats, degrees: float) -> Floats:
    """The same time spent `degrees` hotter (below 0: cooler), which is a cone that goes down so much sooner."""
    cells = round(degrees / CELL_C)
    found = np.zeros_like(minutes)
    if cells >= 0:
        found[cells:] = minutes[: CELLS - cells]
        found[-1] += minutes[CELLS - cells :].sum()
    else:
        found[:cells] = minutes[-cells:]
    return found


def least_and_most(minutes: Floats, share: Floats) -> tuple[Floats, Floats]:
    """The time in each cell at both ends of the interval: hold and the cone's own tolerance together."""
    least = moved(minutes * (1 - share + share * LEAST), -CONE_C)
    most = moved(minutes * (1 - share + share * MOST), CONE_C)
    return least, most
