"""How fast a kiln climbs where it is told no rate: assumed, or as its own logs show it, by hundreds of degrees."""

from collections.abc import Iterable, Mapping
from itertools import pairwise

import numpy as np

from tiles.calc.log_counted import MOST_C_PER_H

# Assumed where nothing is known of the kiln: a small electric kiln at full power near its top. Common practice.
FASTEST_C_PER_H = 200.0
BAND_C = 100
JUMP_C = 25.0  # a step by more than this, and faster than any kiln climbs, is the instrument's

# (°C, °C/h): so fast as far as that temperature; the last one for whatever is hotter too.
Pace = tuple[tuple[float, float], ...]
ASSUMED: Pace = ((1400.0, FASTEST_C_PER_H),)


def climbing(from_c: float, to_c: float, pace: Pace) -> list[tuple[float, float]]:
    """The corners of a climb: minutes since it began, and °C.

    >>> climbing(500, 800, ((600, 300), (700, 150)))
    [(20.0, 600), (100.0, 800)]
    """
    found: list[tuple[float, float]] = []
    minutes, at_c, rate_before = 0.0, from_c, 0.0
    for n, (up_to, rate) in enumerate(pace, start=1):
        end = to_c if n == len(pace) else min(up_to, to_c)
        if end <= at_c:
            continue
        minutes += (end - at_c) / rate * 60
        if found and rate == rate_before:
            found.pop()  # no corner where the line goes straight on
        found.append((minutes, end))
        at_c, rate_before = end, rate
    return found


def rate_at(celsius: float, pace: Pace) -> float:
    """°C/h.

    >>> rate_at(650, ((600, 300), (700, 150))), rate_at(1300, ((600, 300), (700, 150)))
    (150, 150)
    """
    return next((rate for up_to, rate in pace if celsius < up_to), pace[-1][1])


def seen_climbs(seconds: np.ndarray, celsius: np.ndarray) -> dict[int, float]:
    """°C/h over each whole hundred of degrees that a log climbed through: {6: from 600 to 700, ...}.

    >>> seen_climbs(np.array([0, 3600, 7200]), np.array([50, 250, 350]))
    {1: 200.0, 2: 133.3}
    """
    known = np.isfinite(celsius)
    clock, heat = np.asarray(seconds, float)[known], np.asarray(celsius, float)[known]
    if heat.size < 2:
        return {}
    peak = int(heat.argmax())
    # The first time at each temperature: what comes back to it later is no climb.
    tops, first = np.unique(np.maximum.accumulate(heat[: peak + 1]), return_index=True)
    edges = np.arange(np.ceil(tops[0] / BAND_C), tops[-1] // BAND_C + 1) * BAND_C
    if edges.size < 2:
        return {}
    times = np.interp(edges, tops, clock[first])
    jumped = _jumped(clock[: peak + 1], heat[: peak + 1])
    found = {
        int(low // BAND_C): round(float(BAND_C / (there - here) * 3600), 1)
        for low, (here, there) in zip(edges, pairwise(times), strict=False)
        if there > here
    }
    return {band: rate for band, rate in found.items() if band not in jumped and rate <= MOST_C_PER_H}


def _jumped(clock: np.ndarray, heat: np.ndarray) -> set[int]:
    """The hundreds of degrees in which the readings jumped."""
    step, took = np.diff(heat), np.maximum(np.diff(clock), 1)
    wrong = np.flatnonzero((abs(step) > JUMP_C) & (abs(step) / took * 3600 > MOST_C_PER_H))
    found: set[int] = set()
    for at in wrong:
        low, high = sorted((heat[at], heat[at + 1]))
        found.update(range(int(low // BAND_C), int(high // BAND_C) + 1))
    return found


def pace_of(logs: Iterable[Mapping[int, float]]) -> Pace:
    """The fastest of some logs; empty without any. What a kiln can do while hotter it can do while cooler.

    >>> pace_of([{1: 90.0, 2: 150.0}, {1: 120.0, 3: 80.0}])
    ((200, 150.0), (300, 150.0), (400, 80.0))
    """
    seen: dict[int, float] = {}
    for climbs in logs:
        for band, rate in climbs.items():
            seen[band] = max(seen.get(band, 0.0), rate)
    found, fastest = [], 0.0
    for band in sorted(seen, reverse=True):
        fastest = max(fastest, seen[band])
        found.append(((band + 1) * BAND_C, fastest))
    return tuple(reversed(found))
