"""How long a log spends at each temperature of the hot end, exactly for readings joined by straight lines."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from tiles.calc.cone_rates import CELL_C, CELLS, RED_C, Floats

COLDEST_C, HOTTEST_C = -100.0, 2000.0  # no thermometer of a kiln says more or less
LONGEST_MIN = 100 * 24 * 60.0
BLOCK = 8192


class HeatWorkError(ValueError):
    """A log cannot be reckoned with: `code` says why, `params` what was given.

    Codes: lengths_differ, no_readings, not_a_time, times_backwards, not_a_temperature, unknown_cone_type,
    too_long, unknown_cone, rate_out_of_range.
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
    if times[-1] - times[0] > LONGEST_MIN:
        raise HeatWorkError("too_long", minutes=float(times[-1] - times[0]))
    return times, degrees


def _refuse(rows: NDArray[np.intp], wrong: NDArray[np.bool_], code: str, values: Floats) -> None:
    if wrong.any():
        first = int(np.argmax(wrong))
        raise HeatWorkError(code, row=int(rows[first]) + 1, value=float(values[first]))


def merged(times: Floats, degrees: Floats, instants: Floats) -> tuple[Floats, Floats]:
    """The readings with those at `instants` added on the lines between them, which changes no time in any cell."""
    new = instants[~np.isin(instants, times)]
    order = np.argsort(np.concatenate([times, new]), kind="stable")
    both = np.concatenate([degrees, np.interp(new, times, degrees)])
    return np.concatenate([times, new])[order], both[order]


def time_in_cells(times: Floats, degrees: Floats) -> Floats:
    """Minutes in each cell of 0.2 °C from first red heat up, between tidy readings.

    The time of a stretch is spread evenly over the degrees it runs through, so a reading more on a straight line
    changes nothing. What is hotter than TOP_C counts in the uppermost cell.

    >>> bool(np.isclose(time_in_cells(np.array([0.0, 60.0]), np.array([480.0, 540.0])).sum(), 40))
    True
    """
    found = np.zeros(CELLS)
    for begin in range(0, len(times) - 1, BLOCK):  # a block fits the processor's cache, a long log does not
        block = slice(begin, begin + BLOCK + 1)
        _count(found, np.diff(times[block]), (degrees[block] - RED_C) / CELL_C)
    return found


def _count(found: Floats, passed: Floats, at: Floats) -> None:
    """Add the time of each stretch to the cells it runs through; `at`: its ends in cells."""
    inside = np.clip(at, 0, CELLS)
    out = at != inside
    if out.any():
        passed, above = _time_within(passed, at, inside, out[:-1] | out[1:])
        found[-1] += above
    hot = np.flatnonzero(passed)
    if hot.size:
        begin, end = inside[hot], inside[hot + 1]
        _spread(found, np.minimum(begin, end), np.maximum(begin, end), passed[hot])


def _time_within(
    passed: Floats, at: Floats, inside: Floats, touched: NDArray[np.bool_]
) -> tuple[Floats, float]:
    """The time of each stretch that lies within the cells, and all time above them, where some reach out of them."""
    which = np.flatnonzero(touched)
    span = np.abs(at[which + 1] - at[which])
    low = np.minimum(at[which], at[which + 1])
    share = np.divide(
        np.abs(inside[which + 1] - inside[which]), span, out=np.zeros_like(span), where=span > 0
    )
    over = np.divide(span + low - np.maximum(low, CELLS), span, out=1.0 * (low >= CELLS), where=span > 0)
    within = passed.copy()
    within[which] *= share
    return within, float(passed[which] @ np.maximum(over, 0))


def _spread(found: Floats, low: Floats, high: Floats, passed: Floats) -> None:
    """Add each stretch's time to the cells between its ends, which are given in cells."""
    first, last = (np.minimum(ends, CELLS - 1).astype(np.intp) for ends in (low, high))
    one = first == last
    found += _sums(first[one], passed[one])
    several = ~one
    low, high, first, last = low[several], high[several], first[several], last[several]
    slow = passed[several] / (high - low)  # minutes for each cell
    found += _sums(first, slow * (first + 1 - low))
    found += _sums(last, slow * (high - last))
    wide = last > first + 1  # whole cells lie between, which bounds how slow these are
    steps = _sums(first[wide] + 1, slow[wide]) - _sums(last[wide], slow[wide])
    # Rounding leaves a trace in the sum above the hottest cell, where the rates are beyond all measure.
    top = int(last.max(initial=0))
    found[:top] += np.maximum(np.cumsum(steps[:top]), 0)


def _sums(cells: NDArray[np.intp], values: Floats) -> Floats:
    found = np.zeros(CELLS)
    if cells.size:
        found += np.bincount(cells, values, CELLS)
    return found
