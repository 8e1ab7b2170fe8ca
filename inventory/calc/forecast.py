"""When a bucket runs out, from what was seen of its level."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

FEWEST_POINTS = 3
SHORTEST_SPAN_DAYS = 3.0
# Student's t for an 80 % two-sided interval by degrees of freedom (1, 2, ...); 1.28 beyond the table.
T80 = (3.078, 1.886, 1.638, 1.533, 1.476, 1.440, 1.415, 1.397, 1.383, 1.372)


@dataclass(frozen=True, slots=True)
class RunsOut:
    """Days from the last point until nothing is left, with an 80 % interval; `high` None: perhaps never."""

    days: float
    low: float
    high: float | None
    ml_per_day: float


def runs_out(points: Sequence[tuple[float, float]]) -> RunsOut | None:
    """Straight-line use through (day, mL) points since the last time that it was filled up.

    Formula: least squares V = a - b t; out after V_last / b days, the interval from b ± t80 se(b). Valid for steady
    use; it knows nothing of holidays or of the class next week. None when it cannot be said: fewer than three
    points, less than three days between first and last, or no fall. Source: ordinary least squares; Student's t
    quantiles at 0.90 (any statistics table, e.g. NIST/SEMATECH e-Handbook 1.3.6.7.2).

    >>> runs_out([(0, 10000), (5, 8000), (10, 6000)]).days
    15.0
    >>> runs_out([(0, 10000), (10, 6000)]) is None
    True
    """
    n = len(points)
    if n < FEWEST_POINTS or points[-1][0] - points[0][0] < SHORTEST_SPAN_DAYS:
        return None
    mean_t = sum(t for t, _v in points) / n
    mean_v = sum(v for _t, v in points) / n
    spread = sum((t - mean_t) ** 2 for t, _v in points)
    slope = sum((t - mean_t) * (v - mean_v) for t, v in points) / spread
    rate, left = -slope, points[-1][1]
    if rate <= 0 or left <= 0:
        return None
    residual = sum((v - mean_v - slope * (t - mean_t)) ** 2 for t, v in points)
    t80 = T80[n - 3] if n - 3 < len(T80) else 1.28
    wide = t80 * sqrt(residual / (n - 2) / spread)
    return RunsOut(
        days=left / rate,
        low=left / (rate + wide),
        high=left / (rate - wide) if rate > wide else None,
        ml_per_day=rate,
    )
