"""How far a shelf of a kiln is from what its instrument says, learnt from witness cones.

The offset of a shelf is the temperature there minus the temperature on the instrument, in °C: +8 means that the
shelf is 8 °C hotter than the instrument says. A Bayesian update on a grid, for each shelf by itself:

- prior: normal about 0. Its spread is the thermocouple's tolerance, an interval ±a taken as evenly likely inside
  (sd a/√3), and SHELF_SD_C for a shelf against the place of the sensor, added in squares.
- likelihood: for each witness cone the shift is worked out by which the log would have to be moved for the cone to
  be just down (dose 1). A cone that is down says 'at least that', one that stands 'less than where bending begins',
  a partly bent one lies within its bending range by its angle.
- cones of one shelf in one firing share that firing's own deviation (FIRING_SD_C).

Sources: bending course T. Frederich, http://potters.org/subject60350.htm; cone tolerance the same, 2003,
http://www.potters.org/subject63823.htm; tolerances of wire fixtures/thermocouples.csv. The spreads of shelf and
firing, the eye's error and the share of slips are this project's own assumptions: nothing published was read.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from inventory.calc.cones import Cone
from inventory.calc.fixtures import rows
from tiles.calc.witness import DOWN_DEGREES, STANDS_BELOW

REACH_C = 120  # nobody's shelf is further off; a log this far from a cone says nothing about it
GRID = np.arange(-REACH_C, REACH_C + 1.0, 1.0)
SHELF_SD_C = 20.0
FIRING_SD_C = 4.0
CONE_SD_C = 2 / math.sqrt(3)  # a cone is within ±2 °C of the standard
MODEL_SD_C = 2.0  # of the heat work itself; its fit holds every published end point within 4 °C
EYE_DEGREES = 8.0
SLIPS = 0.02  # readings that are simply wrong: another cone, another shelf

# °C below the end point at a bend: 4 o'clock 8 °F, 1 o'clock 8 + 27 °F, the whole bend under 40 °F.
_BENDS = (0.0, 15.0, 60.0, float(DOWN_DEGREES))
_BELOW = (40 / 1.8, 35 / 1.8, 8 / 1.8, 0.0)

Dose = Callable[..., float]


@dataclass(frozen=True, slots=True)
class ConeSeen:
    """One witness cone: in which firing and where it stood, its bend, and the shift of the log that just fells it."""

    firing: int
    position: str
    bend_degrees: int
    shift_c: float


@dataclass(frozen=True, slots=True)
class ShelfOffset:
    """Offset of one shelf in °C with its 80 % interval. With no cone read (`cones` 0) it is the prior alone."""

    position: str
    mean_c: float
    median_c: float
    low_c: float
    high_c: float
    firings: int
    cones: int


@lru_cache(maxsize=1)
def _tolerances() -> dict[str, tuple[float, float]]:
    return {
        row["class"]: (float(row["plus_minus_c"]), float(row["percent"]) / 100)
        for row in rows("thermocouples")
    }


def tolerance_c(thermocouple: str, celsius: float) -> float:
    """± tolerance in °C of new wire of a class at a temperature: the greater of two (fixtures/thermocouples.csv).

    An unknown or other thermocouple counts as type K of standard tolerance, the widest of the table.

    >>> round(tolerance_c("k_standard", 1222), 1), round(tolerance_c("s_standard", 1222), 1)
    (9.2, 3.1)
    """
    least, share = _tolerances().get(thermocouple) or _tolerances()["k_standard"]
    return max(least, share * celsius)


def below_end_point_c(bend_degrees: float) -> float:
    """°C by which a cone bent this far is short of its end point (module's sources); 0 from 90 degrees on.

    >>> round(below_end_point_c(60), 1), below_end_point_c(95)
    (4.4, 0.0)
    """
    return float(np.interp(bend_degrees, _BENDS, _BELOW))


def shift_that_fells(
    minutes: Sequence[float] | np.ndarray,
    celsius: Sequence[float] | np.ndarray,
    cone: Cone,
    cone_type: str,
    dose: Dose,
) -> float | None:
    """°C by which the whole log has to be shifted for `cone` to be just down (dose 1); None beyond REACH_C.

    `dose(minutes, celsius, cone, cone_type)` is that of calc.heat_work; it grows with the shift nearly as an
    exponential, so a table of its logarithm every 12 °C is read between its rows.
    """
    clock, heat = hot_end(np.asarray(minutes, float), np.asarray(celsius, float))
    if clock.size < 2:
        return None
    shifts = np.arange(-REACH_C, REACH_C + 1.0, 12.0)
    try:
        doses = np.array([dose(clock, heat + shift, cone, cone_type) for shift in shifts])
    except ValueError:  # no such cone of this type, or a log that cannot be reckoned with
        return None
    logs = np.log(np.maximum(doses, 1e-30))
    if not logs[0] <= 0 <= logs[-1]:
        return None
    return float(np.interp(0.0, np.maximum.accumulate(logs), shifts))


def hot_end(minutes: np.ndarray, celsius: np.ndarray, most: int = 3000) -> tuple[np.ndarray, np.ndarray]:
    """The readings within 300 °C of the hottest, at most about `most` of them, the hottest always among them.

    What is cooler adds nothing that could be measured to the dose of a cone which that log can bend.
    """
    known = np.isfinite(celsius) & np.isfinite(minutes)
    minutes, celsius = minutes[known], celsius[known]
    if not celsius.size:
        return minutes, celsius
    hot = np.flatnonzero(celsius >= celsius.max() - 300)
    inside = slice(hot[0], hot[-1] + 1)
    minutes, celsius = minutes[inside], celsius[inside]
    step = -(-celsius.size // most)
    keep = np.union1d(np.arange(0, celsius.size, step), [int(celsius.argmax()), celsius.size - 1])
    return minutes[keep], celsius[keep]


def shelf_offset(
    position: str, seen: Iterable[ConeSeen], thermocouple: str = "", celsius: float = 1200.0
) -> ShelfOffset:
    """The offset of one shelf after every cone in `seen` that stood there (module's docstring for the model).

    `celsius` is where the thermocouple's tolerance is taken. Valid for offsets within ±REACH_C.

    >>> shelf_offset("top", []).cones, round(shelf_offset("top", []).median_c)
    (0, 0)
    """
    here = [one for one in seen if one.position == position]
    prior_sd = math.hypot(tolerance_c(thermocouple, celsius) / math.sqrt(3), SHELF_SD_C)
    log_weight = -0.5 * (GRID / prior_sd) ** 2
    firings = {one.firing for one in here}
    for firing in firings:
        of_it = np.prod([_likelihood(one) for one in here if one.firing == firing], axis=0)
        log_weight = log_weight + np.log(np.maximum(_spread() @ of_it, 1e-300))
    weight = np.exp(log_weight - log_weight.max())
    weight /= weight.sum()
    low, median, high = (_quantile(weight, share) for share in (0.1, 0.5, 0.9))
    return ShelfOffset(position, float(weight @ GRID), median, low, high, len(firings), len(here))


def _likelihood(one: ConeSeen) -> np.ndarray:
    """Of one cone's bend, for each true offset in that firing."""
    short = below_end_point_c(max(one.bend_degrees, STANDS_BELOW))
    at = one.shift_c - short
    # The published course is of one cone; another may bend over a quarter more or less.
    sd = math.hypot(CONE_SD_C, MODEL_SD_C, short / 4)
    if one.bend_degrees >= DOWN_DEGREES:
        good = _normal_cdf((GRID - one.shift_c) / sd)
    elif one.bend_degrees < STANDS_BELOW:
        good = _normal_cdf((at - GRID) / sd)
    else:
        nearer = below_end_point_c(min(one.bend_degrees + EYE_DEGREES, DOWN_DEGREES))
        further = below_end_point_c(max(one.bend_degrees - EYE_DEGREES, 0))
        good = np.exp(-0.5 * ((GRID - at) / math.hypot(sd, (further - nearer) / 2)) ** 2)
    return (1 - SLIPS) * good + SLIPS


@lru_cache(maxsize=1)
def _spread() -> np.ndarray:
    """Rows: the offset of the shelf; columns: what it was in one firing."""
    kernel = np.exp(-0.5 * ((GRID[:, None] - GRID[None, :]) / FIRING_SD_C) ** 2)
    return kernel / kernel.sum(axis=1, keepdims=True)


def _normal_cdf(z: np.ndarray) -> np.ndarray:
    return np.array([0.5 * math.erfc(-value / math.sqrt(2)) for value in z])


def _quantile(weight: np.ndarray, share: float) -> float:
    """Of weights on GRID, each spread evenly over its step."""
    edges = np.append(GRID - 0.5, GRID[-1] + 0.5)
    return float(np.interp(share, np.append(0.0, np.cumsum(weight)), edges))
