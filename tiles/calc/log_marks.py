"""What is odd in the readings of a log: found and marked, never put right in silence.

A mark is `{"code", "from", "to", "params"}`, its ends in seconds of the log. The figures that part odd from usual are
common practice: no source gives them.
"""

from typing import Any

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

from tiles.calc.readings import Celsius, Seconds

Mark = dict[str, Any]

# The readings under these marks tell nothing about the heat, so no cone is worked out of them.
NOT_COUNTED = {"spike", "dropout", "open_circuit", "unit_jump"}
MOST_OF_A_KIND = 25
GAP_AT_LEAST_S, GAP_STEPS = 600, 10
SPIKE_C, SPIKE_STEPS, WINDOW = 25.0, 4.0, 7
COLD_C, HOT_C, SUDDEN_C = 80.0, 200.0, 100.0
STUCK_FOR_S, STUCK_READINGS, STUCK_OVER_C = 3600, 20, 100.0


def mark(code: str, start: Any, end: Any, **params: Any) -> Mark:
    return {"code": code, "from": int(start), "to": int(end), "params": params}


def find_marks(seconds: Seconds, celsius: Celsius) -> list[Mark]:
    """Gaps, spikes, drop-outs, a stuck value, silence and a change of unit in the middle, in the order of time.

    >>> at = np.arange(0, 3600, 60)
    >>> heat = 300 + at / 36.0
    >>> heat[30] = 900
    >>> [(one["code"], one["from"]) for one in find_marks(at, heat)]
    [('spike', 1800)]
    """
    if seconds.size < 2:
        return []
    said = ~np.isnan(celsius)
    at, heat = seconds[said], celsius[said]
    dropped = _dropouts(at, heat)
    jumps = _unit_jumps(at, heat)
    # What lies in a drop-out is said once.
    rest = np.ones(at.size, dtype=bool)
    for one in [*dropped, *jumps]:
        rest &= (at < one["from"]) | (at > one["to"])
    found = [
        *_gaps(seconds),
        *_silences(seconds, said),
        *dropped,
        *jumps,
        *_spikes(at[rest], heat[rest]),
        *_stuck(at[rest], heat[rest]),
    ]
    return in_order(found)


def in_order(marks: list[Mark]) -> list[Mark]:
    """By time; of more than MOST_OF_A_KIND of one kind the last stands for the rest, and says how many."""
    kept: dict[str, list[Mark]] = {}
    for one in sorted(marks, key=lambda m: (m["from"], m["code"])):
        same = kept.setdefault(one["code"], [])
        if len(same) < MOST_OF_A_KIND:
            same.append(one)
        else:
            last = same[-1]
            last["to"] = max(last["to"], one["to"])
            last["params"] = {**last["params"], "more": last["params"].get("more", 0) + 1}
    return sorted((one for same in kept.values() for one in same), key=lambda m: (m["from"], m["code"]))


def counted(seconds: Seconds, celsius: Celsius, marks: list[Mark]) -> Celsius:
    """The temperatures without those that a mark says are not the kiln's: NaN there.

    >>> counted(np.arange(3), np.array([20.0, 900.0, 21.0]), [mark("spike", 1, 1)]).tolist()
    [20.0, nan, 21.0]
    """
    kept = celsius.copy()
    for one in marks:
        if one["code"] in NOT_COUNTED:
            low, high = np.searchsorted(seconds, [one["from"], one["to"] + 1])
            kept[low:high] = np.nan
    return kept


def runs(flags: Any) -> list[tuple[int, int]]:
    """First and last index of each run of true.

    >>> runs(np.array([True, True, False, True]))
    [(0, 1), (3, 3)]
    """
    edges = np.flatnonzero(np.diff(np.concatenate([[False], flags, [False]]).astype(np.int8)))
    return [(int(a), int(b) - 1) for a, b in edges.reshape(-1, 2)]


def _gaps(at: Seconds) -> list[Mark]:
    steps = np.diff(at)
    longest = max(GAP_AT_LEAST_S, GAP_STEPS * float(np.median(steps)))
    return [
        mark("gap", at[i], at[i + 1], minutes=round(int(steps[i]) / 60))
        for i in np.flatnonzero(steps > longest)
    ]


def _silences(at: Seconds, said: Any) -> list[Mark]:
    return [mark("silent", at[a], at[b], readings=b - a + 1) for a, b in runs(~said)]


def _dropouts(at: Seconds, heat: Celsius) -> list[Mark]:
    """A hot kiln that is at room temperature at the next reading: the thermocouple, not the kiln."""
    found = []
    for a, b in runs(heat < COLD_C):
        if a == 0:
            continue
        before, back = float(heat[a - 1]), b + 1 < heat.size
        fell = before > HOT_C and before - heat[a] > SUDDEN_C and (not back or heat[b + 1] > HOT_C)
        # A kiln takes longer than a gap to cool: only a fall between two readings that follow each other tells.
        if fell and (back or at[a] - at[a - 1] < GAP_AT_LEAST_S):
            found.append(mark("dropout", at[a], at[b], celsius=round(before), back=back))
    return found


def _unit_jumps(at: Seconds, heat: Celsius) -> list[Mark]:
    """From one reading to the next what was °C is °F, or the other way: t becomes 1.8 t + 32."""
    if heat.size < 8:
        return []
    before, after = heat[:-1], heat[1:]
    up = (before > 120) & (abs(after - (1.8 * before + 32)) < 0.02 * after)
    down = (after > 120) & (abs(before - (1.8 * after + 32)) < 0.02 * before)
    jumps = np.flatnonzero(up | down)
    found = []
    for n, i in enumerate(jumps):
        end = int(jumps[n + 1]) if n + 1 < jumps.size else heat.size - 1
        held = end - int(i) > 3  # a single one that comes back is a spike
        if up[i] and held:
            found.append(mark("unit_jump", at[i + 1], at[end], celsius=round(float(before[i]))))
    return found


def _spikes(at: Seconds, heat: Celsius) -> list[Mark]:
    """Up to three readings that stand away from those around them, by far more than the readings step there."""
    if heat.size < WINDOW:
        return []
    side = WINDOW // 2
    around = sliding_window_view(np.pad(heat, side, mode="edge"), WINDOW)
    middle = np.median(around, axis=1)
    step = np.median(abs(np.diff(around, axis=1)), axis=1)
    away = abs(heat - middle) > np.maximum(SPIKE_C, SPIKE_STEPS * step)
    return [mark("spike", at[a], at[b], celsius=round(float(heat[a : b + 1].max()))) for a, b in runs(away)]


def _stuck(at: Seconds, heat: Celsius) -> list[Mark]:
    """One value for an hour and more in a hot kiln, to the tenth of a degree."""
    found = []
    for a, b in runs(np.diff(heat, prepend=np.nan) == 0):
        first = a - 1
        long = at[b] - at[first] >= STUCK_FOR_S and b - first + 1 >= STUCK_READINGS
        if long and heat[a] > STUCK_OVER_C:
            minutes = round(int(at[b] - at[first]) / 60)
            found.append(mark("stuck", at[first], at[b], celsius=round(float(heat[a])), minutes=minutes))
    return found
