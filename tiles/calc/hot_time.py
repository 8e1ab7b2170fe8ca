"""How long a log spends at each temperature of the hot end, exactly for readings joined by straight lines."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from tiles.calc.cone_rates import CELL_C, CELLS, RED_C, TOP_C, Floats

COLDEST_C, HOTTEST_C = -100.0, 2000.0  # no thermometer of a kiln says more or less


class HeatWorkError(ValueError):
    """A log cannot be reckoned with: `code` says why, `params` what was given.

    Codes: lengths_differ, no_readings, not_a_time, times_backwards, not_a_temperature, unknown_cone_type,
    unknown_cone, rate_out_of_range.
    """

    def __init__(self, code: str, **params: object) -> None:
        super().__init__(code)
        self.code = code
        self.params = params


Readings = Sequence[float] | NDArray[np.floating] | NDArray[np.integer]


def tidy(minutes: Readings, celsius: Readings) -> tuple[Floats, Floats]:
    """The readings as arrays without those that are NaN. Raises HeatWorkError, with the `row` counted from 1."""
    times, degrees = np.asarray(minutes, dtype=float), np.asarray(celsius, dtype=float)
    if times.ndim != 1 or times.shape != degrees.shape:
        raise HeatWorkError("lengths_differ", minutes=times.size, celsius=degrees.size)
    said = np.flatnonzero(~np.isnan(degrees))
    if not said.size:
        raise HeatWorkError("no_readings")
    times, degrees = times[said], degrees[said]
    _refuse(said, ~np.isfinite(times), "not_a_time", times)
    _refuse(said, (degrees < COLDEST_C) | (degrees > HOTTEST_C), "not_a_temperature", degrees)
    _refuse(said[1:], np.diff(times) < 0, "times_backwards", times[1:])
    return times, degrees


def _refuse(rows: NDArray[np.intp], wrong: NDArray[np.bool_], code: str, values: Floats) -> None:
    if wrong.any():
        first = int(np.argmax(wrong))
        raise HeatWorkError(code, row=int(rows[first]) + 1, value=float(values[first]))


def time_in_cells(
    times: Floats, degrees: Floats, groups: NDArray[np.intp] | None = None, count: int = 1
) -> Floats:
    """Minutes in each cell of 0.2 °C from first red heat up, between tidy readings.

    The time of a stretch is spread evenly over the degrees it runs through, so a reading more on a straight line
    changes nothing. What is hotter than TOP_C counts in the uppermost cell. With `groups` (one number for each
    stretch, below `count`) the answer has a row for each group.

    >>> bool(np.isclose(time_in_cells(np.array([0.0, 60.0]), np.array([480.0, 540.0])).sum(), 40))
    True
    """
    low, high = np.minimum(degrees[:-1], degrees[1:]), np.maximum(degrees[:-1], degrees[1:])
    passed = np.diff(times)
    hot = (high > RED_C) & (passed > 0)
    low, high, passed = low[hot], high[hot], passed[hot]
    at = np.zeros(len(low), dtype=np.intp) if groups is None else groups[hot] * CELLS
    span = high - low
    slow = np.divide(passed, span, out=np.zeros_like(span), where=span > 0)  # minutes for each degree
    above = slow * np.maximum(high - np.maximum(low, TOP_C), 0)
    below = slow * np.maximum(np.minimum(high, RED_C) - low, 0)
    top = CELLS * (1 - 1e-15)
    first, last = (np.clip((ends - RED_C) / CELL_C, 0, top) for ends in (low, high))
    first_cell, last_cell = first.astype(np.intp), last.astype(np.intp)

    found = np.zeros(CELLS * count)

    def add(cells: NDArray[np.intp], weights: Floats) -> None:
        if len(cells):
            found[:] += np.bincount(cells, weights, len(found))

    within = first_cell == last_cell
    add((at + first_cell)[within], (passed - above - below)[within])
    add((at + CELLS - 1)[above > 0], above[above > 0])
    across = ~within
    at, slow, first, last = at[across], slow[across] * CELL_C, first[across], last[across]
    first_cell, last_cell = first_cell[across], last_cell[across]
    add(at + first_cell, slow * (first_cell + 1 - first))
    add(at + last_cell, slow * (last - last_cell))
    wide = last_cell > first_cell + 1  # whole cells lie between, and so the slowness of these is bounded
    if wide.any():
        steps = np.bincount((at + first_cell)[wide] + 1, slow[wide], len(found))
        steps -= np.bincount((at + last_cell)[wide], slow[wide], len(found))
        found += np.maximum(np.cumsum(steps), 0)
    return found if groups is None else found.reshape(count, CELLS)
