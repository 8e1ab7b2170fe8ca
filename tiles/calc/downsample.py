"""Fewer points of a long log for a drawing, so that no peak, dip or gap is lost."""

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

FEWEST = 8


def downsample(
    minutes: ArrayLike, celsius: ArrayLike, points: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """At most `points` readings (8 or more) out of those given, in their order.

    The time is cut into equal spells; of each the lowest and the highest reading stay, and one that says
    nothing (NaN), so that a gap in the line stays a gap. The first and the last reading stay, and so do
    the lowest and highest of all, because each is the lowest or highest of its spell. A short log is
    handed back as it is. Raises ValueError: not one celsius for each minute, times backwards, too few points.

    >>> minutes, celsius = downsample(range(1000), [20.0] * 500 + [999.0] + [20.0] * 499, 10)
    >>> len(minutes) <= 10, float(celsius.max()), minutes[[0, -1]].tolist()
    (True, 999.0, [0.0, 999.0])
    """
    when = np.asarray(minutes, dtype=float)
    heat = np.asarray(celsius, dtype=float)
    if when.shape != heat.shape or when.ndim != 1:
        raise ValueError("one celsius for each minute")
    if points < FEWEST:
        raise ValueError(f"at least {FEWEST} points")
    if len(when) <= points:
        return when, heat
    if np.any(np.diff(when) < 0):
        raise ValueError("times backwards")
    kept = _kept(when, heat, points)
    return when[kept], heat[kept]


def _kept(when: Any, heat: Any, points: int) -> Any:
    silent = np.isnan(heat)
    for_each = 3 if silent.any() else 2
    spells = (points - 2) // for_each
    edges = np.searchsorted(when, np.linspace(when[0], when[-1], spells + 1)[1:-1])
    kept = {0, len(when) - 1}
    for start, end in zip([0, *edges], [*edges, len(when)], strict=True):
        spell, said = heat[start:end], ~silent[start:end]
        if said.any():
            kept |= {start + int(np.nanargmin(spell)), start + int(np.nanargmax(spell))}
        if not said.all():
            kept.add(start + int(np.argmin(said)))
    return sorted(kept)
