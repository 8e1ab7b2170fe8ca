"""How often something went well, with what the small number of tries leaves open."""

from dataclasses import dataclass
from math import sqrt

Z80 = 1.2816  # two-sided 80 %, the interval of every estimate in this studio


@dataclass(frozen=True, slots=True)
class Share:
    """`good` of `tries`, and the interval in which the true share lies."""

    good: int
    tries: int
    low: float
    high: float


def share(good: int, tries: int, z: float = Z80) -> Share | None:
    """Wilson's score interval of a proportion; None without a try.

    Formula: centre (p + z²/2n) / (1 + z²/n), half width z/(1 + z²/n) · sqrt(p(1-p)/n + z²/4n²). `z` 1.2816 for 80 %,
    1.96 for 95 %. ValueError when `good` is not within 0..`tries`.
    Source: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209; the example is 95 % of 8 in 10, as any table of it gives.

    >>> s = share(8, 10, z=1.96); round(s.low, 3), round(s.high, 3)
    (0.49, 0.943)
    """
    if not 0 <= good <= tries:
        raise ValueError("good must lie within 0 and tries")
    if tries == 0:
        return None
    p, n = good / tries, tries
    scale = 1 + z * z / n
    centre = (p + z * z / (2 * n)) / scale
    half = z / scale * sqrt(p * (1 - p) / n + z * z / (4 * n * n))
    # At none and at all of them the limit is exact; rounding would leave it a hair inside.
    low = 0.0 if good == 0 else centre - half
    high = 1.0 if good == tries else centre + half
    return Share(good, tries, low, high)
