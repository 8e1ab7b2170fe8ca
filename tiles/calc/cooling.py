"""When a kiln that cools passes a temperature, from the tail of its log; and when nothing can be told.

Model: dT/dt = -k (T - Ta) - r (T⁴ - Ta⁴), T in kelvin in the second term: Newton's law and radiation, k and r not
negative. They are fitted to the tail in integrated form (T(0) - T(t) = k ∫(T - Ta) dt + r ∫(T⁴ - Ta⁴) dt), which
does not differentiate noise. The interval comes from draws of k, r, the room's temperature Ta and DEPARTURE, the
share by which a real kiln departs from one lump (its walls hold heat back). Valid from 1400 °C down to a temperature
some degrees above the room. DEPARTURE, the room's spread and the bound of a fall are this project's own assumptions.

A dead thermocouple reads cold, so whatever looks like one is refused (`cooling_trouble.py`).
"""

from dataclasses import dataclass

import numpy as np

from tiles.calc.cooling_trouble import Trouble, trouble

ROOM_C, ROOM_SD_C = 20.0, 3.0  # 20 ± 5 °C at 90 %
READ_ROOM_SD_C = 1.5
ROOM_BETWEEN = (0.0, 40.0)
DEPARTURE = 0.03
DRAWS = 400
_KELVIN = 273.15


@dataclass(frozen=True, slots=True)
class Forecast:
    """Seconds of the log at which the kiln is expected to pass `to_c`: the middle and the 80 % interval."""

    to_c: float
    middle_s: float
    low_s: float
    high_s: float
    room_c: float


def forecast(
    seconds: np.ndarray,
    celsius: np.ndarray,
    to_c: float,
    now_s: float | None = None,
    fastest: dict[int, float] | None = None,
) -> Forecast | Trouble:
    """When the log passes `to_c`, or why that cannot be told (a Trouble with its code).

    `now_s` is the present on the log's clock (None: its last reading), `fastest` how fast this kiln ever fell
    (`cooling_trouble.fastest_falls`).
    """
    found = trouble(seconds, celsius, to_c, now_s, fastest)
    if found:
        return found
    known = np.isfinite(celsius)
    clock, heat = np.asarray(seconds, float)[known], np.asarray(celsius, float)[known]
    room, room_sd = _room(heat)
    if to_c < room + 2 * room_sd + 2:
        return Trouble("near_the_room", celsius=room)
    clock, heat = _tail(clock, heat, room)
    if clock.size < 8:
        return Trouble("too_few")
    rng = np.random.default_rng(1)
    rooms = rng.normal(room, room_sd, DRAWS)
    rooms[0] = room
    fits = [_fit(clock, heat, each) for each in rooms[:: DRAWS // 8]]
    # The fit moves smoothly with the room, so eight rooms stand for all of them.
    near = np.abs(rooms[:: DRAWS // 8][None, :] - rooms[:, None]).argmin(axis=1)
    roots = np.array([_root(covariance) for _rates, covariance, _start in fits])
    middles = np.array([rates for rates, _covariance, _start in fits])
    rates = middles[near] + np.einsum("dij,dj->di", roots[near], rng.standard_normal((DRAWS, 2)))
    rates[0] = fits[0][0]
    rates = np.maximum(rates, 0)
    start = fits[0][2]
    took = _seconds_between(start, to_c, rooms, rates) * np.exp(rng.normal(0, DEPARTURE, DRAWS))
    if np.isnan(took).mean() > 0.1:
        return Trouble("near_the_room", celsius=room)
    low, middle, high = np.quantile(np.where(np.isnan(took), np.inf, took), [0.1, 0.5, 0.9])
    last = float(clock[-1])
    return Forecast(to_c, last + float(middle), last + float(low), last + float(high), room)


def _room(heat: np.ndarray) -> tuple[float, float]:
    """What the log began at, if that can be a room; else ROOM_C. The lowest, because the kiln climbs from it."""
    first = float(heat[:5].min())
    if ROOM_BETWEEN[0] <= first <= ROOM_BETWEEN[1]:
        return first, READ_ROOM_SD_C
    return ROOM_C, ROOM_SD_C


def _tail(clock: np.ndarray, heat: np.ndarray, room: float) -> tuple[np.ndarray, np.ndarray]:
    """The last free cooling: from where it stood three times as far above the room as now, after the peak."""
    now = float(np.median(heat[-5:]))
    after = int(heat.argmax())
    above = np.flatnonzero(heat[after:] > room + 3 * (now - room))
    begin = after + (int(above[-1]) + 1 if above.size else 0)
    # At least two hours, as far as there are so many, so that the slope is not that of noise.
    begin = max(after, min(begin, int(np.searchsorted(clock, clock[-1] - 7200))))
    step = -(-(clock.size - begin) // 2000)
    return clock[begin::step], heat[begin::step]


def _fit(clock: np.ndarray, heat: np.ndarray, room: float) -> tuple[np.ndarray, np.ndarray, float]:
    """(k, r) per second, their covariance, and the fitted temperature at the end."""
    kelvin, ambient = heat + _KELVIN, room + _KELVIN
    columns = np.stack(
        [_integral(clock, heat - room), _integral(clock, kelvin**4 - ambient**4), np.ones(clock.size)], axis=1
    )
    scale = np.abs(columns).max(axis=0)
    fall = heat[0] - heat
    kept = [0, 1, 2]
    for drop in ([], [1], [0]):  # a negative share of either is no physics: fitted again without it
        kept = [i for i in (0, 1, 2) if i not in drop]
        base = columns[:, kept] / scale[kept]
        answer, *_rest = np.linalg.lstsq(base, fall, rcond=None)
        if (answer[:-1] >= 0).all():
            break
    left = fall - base @ answer
    # Neighbouring residuals go together, so there is less evidence than there are readings.
    loss = float(left @ left) / max(1, clock.size - len(kept))
    together = float(left[1:] @ left[:-1]) / max(float(left @ left), 1e-12)
    loss *= (1 + max(0.0, min(together, 0.98))) / (1 - max(0.0, min(together, 0.98)))
    spread = np.linalg.pinv(base.T @ base) * loss
    rates, covariance = np.zeros(2), np.zeros((2, 2))
    rows = [i for i in kept if i < 2]
    places = [kept.index(i) for i in rows]
    rates[rows] = answer[places] / scale[rows]
    covariance[np.ix_(rows, rows)] = spread[np.ix_(places, places)] / np.outer(scale[rows], scale[rows])
    return rates, covariance, float(heat[0] - base[-1] @ answer)


def _root(covariance: np.ndarray) -> np.ndarray:
    """Which makes independent draws go together as they should: its square is the covariance."""
    values, vectors = np.linalg.eigh(covariance)
    root: np.ndarray = vectors * np.sqrt(np.maximum(values, 0))
    return root


def _integral(clock: np.ndarray, values: np.ndarray) -> np.ndarray:
    steps = np.diff(clock) * (values[1:] + values[:-1]) / 2
    return np.append(0.0, np.cumsum(steps))


def _seconds_between(start: float, to_c: float, rooms: np.ndarray, rates: np.ndarray) -> np.ndarray:
    """∫ dT / fall from `start` down to `to_c` for each draw; NaN where it never gets there."""
    heat = np.geomspace(max(start - rooms.mean(), 1.0), to_c - rooms.mean(), 200) + rooms.mean()
    excess = heat[:, None] - rooms[None, :]
    fourth = (heat[:, None] + _KELVIN) ** 4 - (rooms[None, :] + _KELVIN) ** 4
    fall = rates[:, 0] * excess + rates[:, 1] * fourth
    slow = (fall <= 0).any(axis=0)
    took = -np.trapezoid(1 / np.where(fall <= 0, 1.0, fall), heat, axis=0)
    return np.where(slow, np.nan, took)
