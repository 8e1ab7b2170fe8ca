"""Logs for the tests of curves: a plan's own path as a kiln might have logged it."""

import numpy as np

from tests import make
from tiles.actions.logs import keep_log
from tiles.calc.log_marks import find_marks
from tiles.calc.schedule import segments_of, simulated


def logged(firing, *, without=(), dropped=(), spiked=None, cooling_h=6):
    """Fire it, and keep a log of one reading a minute along its plan; minutes from..to left out, or read as
    25 °C; `spiked` minutes with what they read.
    """
    minutes, celsius = simulated(segments_of(firing.plan))
    minutes, keep = np.unique(np.round(minutes), return_index=True)
    celsius = celsius[keep]
    tail = np.arange(1, cooling_h * 60 + 1)
    minutes = np.concatenate([minutes, minutes[-1] + tail])
    celsius = np.concatenate([celsius, celsius[-1] - 100 * tail / 60])
    for first, last in dropped:
        celsius[(minutes >= first) & (minutes <= last)] = 25
    for minute, heat in (spiked or {}).items():
        celsius[minutes == minute] = heat
    for first, last in without:
        outside = (minutes < first) | (minutes > last)
        minutes, celsius = minutes[outside], celsius[outside]
    if firing.takes_tiles:
        make.fire(firing)
    seconds = (minutes * 60).astype(np.int64)
    keep_log(
        by=make.manager(),
        firing=firing,
        seconds=seconds,
        celsius=celsius,
        marks=find_marks(seconds, celsius),
    )
    firing.refresh_from_db()
    return firing
