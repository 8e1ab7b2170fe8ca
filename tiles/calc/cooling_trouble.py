"""What speaks against a forecast of a cooling kiln: nothing to go by, or a sensor that may be dead and reads cold."""

from dataclasses import dataclass

import numpy as np

BAND_C = 100  # how fast a kiln falls is kept for each hundred degrees
WINDOW_S = 600.0  # falls are measured over ten minutes at least, so that noise is none
FASTER = 1.3
LEFT_ALONE_C = 450.0  # below this no kiln is made to cool more slowly than it does by itself. Common practice
EARLIER = (6, 18)  # a fall is compared with those of one to three hours before, by WINDOW_S
STALE_SPACINGS, STALE_LEAST_S, STALE_MOST_S = 5, 900.0, 7200.0
AHEAD_S = 900.0  # clocks run a little fast; a reading of later than that is of a wrong clock, and may be old
STEP_C = 60.0
STUCK_S, STUCK_READINGS = 3600.0, 8
TAIL_S = 7200.0
LOST_SHARE = 0.25


@dataclass(frozen=True, slots=True)
class Trouble:
    """Why there is no forecast. `seconds` is when on the log's clock, `celsius` what was read or reckoned there.

    Codes: no_readings, too_few, climbing, passed (it reads below already), ahead (of the
    present: a wrong clock), stopped (readings), lost (most of the
    last ones say nothing), stuck, step, rising, too_fast, near_the_room. The sentences are in kiln_sentences.py.
    """

    code: str
    seconds: float | None = None
    celsius: float | None = None


def trouble(
    seconds: np.ndarray,
    celsius: np.ndarray,
    to_c: float,
    now_s: float | None,
    fastest: dict[int, float] | None,
) -> Trouble | None:
    """The first thing that forbids a forecast, the sensor's troubles before all others; None if nothing does."""
    clock, heat = np.asarray(seconds, float), np.asarray(celsius, float)
    known = np.isfinite(heat)
    if not known.any():
        return Trouble("no_readings")
    peak = int(np.nanargmax(heat))
    since = clock >= max(clock[peak], clock[-1] - TAIL_S)
    if (~known[since]).mean() > LOST_SHARE or not known[-3:].any():
        return Trouble("lost", float(clock[known][-1]), float(heat[known][-1]))
    clock, heat = clock[known], heat[known]
    peak = int(heat.argmax())
    falling, down = clock[peak:], heat[peak:]
    if found := _step(falling, down, to_c):
        return found
    last_s, last_c = float(clock[-1]), float(np.median(heat[-3:]))
    if heat[peak] - last_c < 50:
        return Trouble("climbing", last_s, last_c)
    if now_s is not None and last_s > now_s + AHEAD_S:
        return Trouble("ahead", last_s, last_c)
    spacing = float(np.median(np.diff(clock[-50:]))) if clock.size > 1 else 0.0
    stale = min(max(STALE_SPACINGS * spacing, STALE_LEAST_S), STALE_MOST_S)
    if now_s is not None and now_s - last_s > stale:
        return Trouble("stopped", last_s, last_c)
    if found := _stuck(falling, down, to_c) or _rising(falling, down) or _too_fast(falling, down, fastest):
        return found
    if last_c <= to_c:
        return Trouble("passed", last_s, last_c)
    if falling.size < 8 or falling[-1] - falling[0] < 1800:
        return Trouble("too_few", last_s, last_c)
    return None


def fastest_falls(seconds: np.ndarray, celsius: np.ndarray) -> dict[int, float]:
    """Fastest fall in °C/h after the peak of a log, by hundreds of degrees: {12: from 1200 up, ...}.

    >>> fastest_falls(np.array([0, 600, 1200, 1800]), np.array([900, 860, 830, 810]))
    {8: 240.0}
    """
    clock, heat = np.asarray(seconds, float), np.asarray(celsius, float)
    known = np.isfinite(heat)
    clock, heat = clock[known], heat[known]
    if clock.size < 2:
        return {}
    peak = int(heat.argmax())
    _when, where, fall = _falls(clock[peak:], heat[peak:])
    bands = (where // BAND_C).astype(int)
    return {int(band): round(float(fall[bands == band].max()), 3) for band in np.unique(bands)}


def rates(seconds: np.ndarray, celsius: np.ndarray) -> tuple[float | None, float | None]:
    """Fastest climb and fastest fall of a log in °C/h, each over WINDOW_S at least; None where there is none.

    >>> rates(np.array([0, 600, 1200, 1800]), np.array([20, 45, 85, 70]))
    (240.0, 90.0)
    """
    clock, heat = np.asarray(seconds, float), np.asarray(celsius, float)
    known = np.isfinite(heat)
    _when, _where, fall = _falls(clock[known], heat[known])
    if not fall.size:
        return None, None
    climb, down = -float(fall.min()), float(fall.max())
    return (round(climb, 3) if climb > 0 else None), (round(down, 3) if down > 0 else None)


def bound_c_per_h(celsius: np.ndarray) -> np.ndarray:
    """No kiln with its lid shut falls faster than this, in °C/h: all its excess over 20 °C in an hour, and 60.

    Our own bound, meant wide: the fastest small kilns lose some 500 °C in their first hour [from memory]. It holds
    for a kiln without a log of its own, and for every other as well.
    """
    return np.maximum(celsius - 20, 0) + 60


def _falls(clock: np.ndarray, heat: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """When the fall began to be measured, where (°C, its middle) and how fast (°C/h), over WINDOW_S or one spacing."""
    if clock.size < 2:
        return np.array([]), np.array([]), np.array([])
    ends = np.minimum(np.searchsorted(clock, clock + WINDOW_S), clock.size - 1)
    starts = np.arange(clock.size)
    whole = clock[ends] - clock[starts] >= WINDOW_S
    starts, ends = starts[whole], ends[whole]
    fall = (heat[starts] - heat[ends]) / (clock[ends] - clock[starts]) * 3600
    return clock[starts], (heat[starts] + heat[ends]) / 2, fall


def _step(clock: np.ndarray, heat: np.ndarray, to_c: float) -> Trouble | None:
    """A jump between neighbours that no kiln makes: a wire that broke, or was put back."""
    gap, jump = np.diff(clock), np.diff(heat)
    allowed = STEP_C + bound_c_per_h(heat[:-1]) * np.maximum(gap, 1) / 3600
    wrong = (jump > STEP_C) | (-jump > allowed)
    for i in (
        np.flatnonzero(gap > max(STALE_LEAST_S, STALE_SPACINGS * float(np.median(gap)))) if gap.size else []
    ):
        wrong[i] |= _fell_unseen(clock[: i + 2], heat[: i + 2], to_c)
    if wrong.any():
        at = int(np.flatnonzero(wrong)[-1]) + 1
        return Trouble("step", float(clock[at]), float(heat[at]))
    return None


def _fell_unseen(clock: np.ndarray, heat: np.ndarray, to_c: float) -> bool:
    """Whether the last reading, after a silence, is colder than the readings before make it likely.

    Cooling slows down as it goes on, so a kiln does not fall faster while nobody reads it than it did before. And
    that it passed `to_c` meanwhile is told by no reading at all.
    """
    fell, hours = float(heat[-2] - heat[-1]), float(clock[-1] - clock[-2]) / 3600
    if fell > 2 * STEP_C and heat[-1] <= to_c:
        return True
    before = heat[(clock >= clock[-2] - 3600) & (clock < clock[-1])]
    if heat[0] - heat[-2] < STEP_C or before.size < 3:
        return False
    passed = float(clock[-2] - clock[-1 - before.size]) / 3600
    return fell > STEP_C + (FASTER * (before[0] - before[-1]) / passed + 15) * hours


def _stuck(clock: np.ndarray, heat: np.ndarray, to_c: float) -> Trouble | None:
    """The same figure for an hour, in a kiln that should fall."""
    last = clock >= clock[-1] - STUCK_S
    if last.sum() >= STUCK_READINGS and np.ptp(heat[last]) == 0 and heat[-1] > to_c:
        return Trouble("stuck", float(clock[last][0]), float(heat[-1]))
    return None


def _rising(clock: np.ndarray, heat: np.ndarray) -> Trouble | None:
    """Warmer than within the last two hours before: fired again, or the sensor is not to be trusted."""
    last = heat[clock >= clock[-1] - TAIL_S]
    if last.size > 3 and np.median(last[-3:]) > last[:-3].min() + 15:
        return Trouble("rising", float(clock[-1]), float(heat[-1]))
    return None


def _too_fast(clock: np.ndarray, heat: np.ndarray, fastest: dict[int, float] | None) -> Trouble | None:
    """Faster than this kiln ever fell there; where it has no history, faster than any kiln does, or than before."""
    when, where, fall = _falls(clock, heat)
    if not where.size:
        return None
    most = bound_c_per_h(where)
    known = np.zeros(where.size, dtype=bool)
    for band, most_there in (fastest or {}).items():
        there = where // BAND_C == band
        known |= there
        most[there] = np.minimum(most[there], FASTER * most_there + 15)
    alone = ~known & (where < LEFT_ALONE_C)
    most[alone] = np.minimum(most[alone], _most_by_before(when[alone], fall[alone]))
    wrong = np.flatnonzero(fall > most)
    if wrong.size:
        at = int(wrong[-1])
        return Trouble("too_fast", float(clock[min(at + 1, clock.size - 1)]), float(where[at]))
    return None


def _most_by_before(when: np.ndarray, fall: np.ndarray) -> np.ndarray:
    """What each fall may be by those of some hours before: a shut kiln falls more and more slowly."""
    if not when.size:
        return fall
    slot = ((when - when[0]) // WINDOW_S).astype(int)
    count = np.bincount(slot)
    means = np.where(count > 0, np.bincount(slot, fall) / np.maximum(count, 1), -np.inf)
    near, far = EARLIER
    before = np.array(
        [means[max(0, n - far) : max(0, n - near + 1)].max(initial=-np.inf) for n in range(means.size)]
    )
    most = np.where(np.isfinite(before), FASTER * before + 15, np.inf)
    # Noise of a few readings is none: a slot is too fast as a whole.
    return np.where(means > most, -np.inf, np.inf)[slot]
