"""How far the cones had come at each moment of a log, for the curve."""

import numpy as np

from tiles.calc.cone_rates import CELL_C, CELLS, RED_C, Floats, Rates
from tiles.calc.hot_time import merged

INSTANTS = 200  # as many as a drawing can show
FLAT_C = 1e-9  # readings no further apart are one temperature
TINY = 1e-300


def approach_of(known: Rates, times: Floats, degrees: Floats) -> tuple[Floats, Floats]:
    """Minutes and the place on the scale of Cone.rank, from a tidy log; see heat_work.approach."""
    if not (degrees > RED_C).any():
        return np.empty(0), np.empty(0)
    first = max(int(np.argmax(degrees > RED_C)) - 1, 0)
    instants = np.unique(np.linspace(times[first], times[-1], INSTANTS))
    times, degrees = merged(times[first:], degrees[first:], instants)
    at = np.searchsorted(times, instants, side="right") - 1
    whole = [row for row, cone in enumerate(known.cones) if not cone.is_half]
    doses = np.array([dose[at] for dose in _running(known, whole, times, degrees)]).T
    return instants, _ranks(doses, np.array([float(known.cones[row].rank) for row in whole]))


def _running(known: Rates, rows: list[int], times: Floats, degrees: Floats) -> list[Floats]:
    """Each cone's dose at each reading: a stretch from T1 to T2 adds its time by (F(T2) - F(T1)) / (T2 - T1)."""
    cells = np.maximum((degrees - RED_C) / CELL_C, 0)
    cell = np.minimum(cells, CELLS - 1).astype(np.intp)
    into_c, hot = (cells - cell) * CELL_C, degrees > RED_C
    passed, span = np.diff(times), np.diff(degrees)
    flat = np.abs(span) < FLAT_C
    slow = np.divide(passed, span, out=np.zeros_like(span), where=~flat)
    held = passed * (flat & hot[:-1])
    found = []
    for rates, grown in zip(known.rates[rows], known.grown()[rows], strict=True):
        rate = rates[cell]
        added = slow * np.diff(grown[cell] + into_c * rate) + held * rate[:-1]
        found.append(np.concatenate([[0.0], np.cumsum(added)]))
    return found


def _ranks(doses: Floats, ranks: Floats) -> Floats:
    """The place on the scale of ranks from the whole cones' doses (a row for each instant)."""
    down = (doses >= 1).sum(axis=1)
    rows = np.arange(len(doses))
    lower, upper = np.maximum(down - 1, 0), np.minimum(down, len(ranks) - 1)
    logs = np.log(np.maximum(doses, TINY))
    own, short = logs[rows, lower], logs[rows, upper]
    way = np.divide(own, own - short, out=np.zeros_like(own), where=upper > lower)
    found: Floats = np.where(down == 0, np.nan, ranks[lower] + way * (ranks[upper] - ranks[lower]))
    return found
