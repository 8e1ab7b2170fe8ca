"""What there is to say about a log's heat work beside the cone, as codes; sentences in tiles/heat_sentences.py."""

from collections.abc import Iterator

import numpy as np

from inventory.calc.cones import Cone
from tiles.calc.cone_rates import RED_C, Floats
from tiles.calc.findings import Finding

RULES = {  # code: (level, what it rests on)
    "below_first_red": ("warn", "cone_table"),
    "below_coolest_cone": ("note", "cone_table"),
    "beyond_hottest_cone": ("warn", "cone_table"),
    "ends_at_peak": ("warn", "log"),
    "climb_not_seen": ("warn", "log"),
    "gap_near_peak": ("warn", "log"),
    "jump_near_peak": ("warn", "log"),
    "rate_outside_table": ("note", "cone_table"),
    "hold_is_estimate": ("note", "hold_statements"),
    "iron_in_cones": ("note", "cone_maker"),
}
NEAR_C = 50.0  # what is cooler than this below the peak adds next to nothing
GAP_MIN = 10.0
JUMP_C, JUMP_C_PER_H = 20.0, 2000.0  # no kiln climbs so fast
AT_PEAK_C = 2.0
LONG_HOLD_MIN = 5.0
PUBLISHED_RATES = {"self_supporting": (15.0, 150.0), "large": (60.0, 150.0), "small": (300.0, 300.0)}
NO_SLOW_CELL = Cone.parse("020")  # 022-020 are published at 60 and 150 °C/h only
ROUNDING = 1.1  # a climb that is meant to be 60 is logged as 58
WITH_IRON = (Cone.parse("010"), Cone.parse("3"))


def _finding(code: str, **params: object) -> Finding:
    level, source = RULES[code]
    return Finding(code, level, tuple(params.items()), "samples", source)


def findings_of(
    times: Floats,
    degrees: Floats,
    rate_c_per_h: float | None,
    cone: Cone | None,
    known: tuple[Cone, ...],
    cone_type: str,
    held_min: float,
) -> tuple[Finding, ...]:
    """Everything to say of a tidy log. `held_min`: minutes near the peak that count as hold."""
    peak_c = float(degrees.max())
    if peak_c <= RED_C:
        return (_finding("below_first_red", peak_c=peak_c),)
    found = list(_of_readings(times, degrees, peak_c))
    if cone is None:
        found.append(_finding("below_coolest_cone", coolest=known[0], peak_c=peak_c))
    elif cone == known[-1]:
        found.append(_finding("beyond_hottest_cone", hottest=known[-1]))
    found += _of_climb(rate_c_per_h, cone, cone_type)
    if held_min >= LONG_HOLD_MIN and cone is not None:
        found.append(_finding("hold_is_estimate", minutes=round(held_min)))
    if cone is not None and WITH_IRON[0] <= cone <= WITH_IRON[1]:
        found.append(_finding("iron_in_cones", cone=cone))
    return tuple(found)


def _of_readings(times: Floats, degrees: Floats, peak_c: float) -> Iterator[Finding]:
    if degrees[-1] >= peak_c - AT_PEAK_C:
        yield _finding("ends_at_peak", last_c=float(degrees[-1]))
    if len(times) < 2:
        return
    passed, climbed = np.diff(times), np.abs(np.diff(degrees))
    near = np.maximum(degrees[:-1], degrees[1:]) > peak_c - NEAR_C
    # Two readings far apart may be all there is of a steady climb: a gap is where others stand closer.
    usual = float(np.median(passed))
    longest = float(np.max(passed, where=near, initial=0.0))
    if longest > max(GAP_MIN, 5 * usual):
        yield _finding("gap_near_peak", minutes=round(longest))
    jumps = near & (climbed > JUMP_C) & (climbed * 60 > JUMP_C_PER_H * passed)
    if jumps.any():
        yield _finding("jump_near_peak", minute=float(times[int(np.argmax(jumps))]))


def _of_climb(rate_c_per_h: float | None, cone: Cone | None, cone_type: str) -> Iterator[Finding]:
    if rate_c_per_h is None:
        yield _finding("climb_not_seen")
        return
    slowest, fastest = PUBLISHED_RATES[cone_type]
    if cone is not None and cone <= NO_SLOW_CELL:
        slowest = max(slowest, 60.0)
    if not slowest / ROUNDING <= rate_c_per_h <= fastest * ROUNDING:
        yield _finding("rate_outside_table", rate=round(rate_c_per_h), slowest=slowest, fastest=fastest)
