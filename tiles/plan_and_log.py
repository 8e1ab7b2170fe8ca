"""What a plan was reckoned to come to, beside what the kiln did by its log."""

from dataclasses import dataclass

import numpy as np
from django.utils.translation import gettext as _

from studio import units
from tiles.calc.readings import Celsius
from tiles.curve_words import NEAR_PEAK_C, near_top
from tiles.curves import Curve
from tiles.heat_sentences import heat_words, reached_words
from tiles.models import FiringLog
from tiles.schedule_sentences import duration_words


@dataclass(frozen=True, slots=True)
class Compared:
    """A line of the table: of what, as planned, and by the log."""

    name: str
    planned: str
    logged: str


def compared(curve: Curve, log: FiringLog | None) -> list[Compared]:
    """Planned against reached; nothing unless there are both."""
    if log is None or curve.prediction is None:
        return []
    each = np.arange(curve.plan_minutes[-1] + 1)  # a plan is told by its corners
    plan = near_top(each, np.interp(each, curve.plan_minutes, curve.plan_c))
    top = near_top(curve.minutes, curve.counted)
    if plan is None or top is None:
        return []
    heat, last_c = curve.prediction.heat, float(curve.plan_c[-1])
    near = {"near": units.difference(NEAR_PEAK_C)}
    return [
        Compared(_("Hottest"), units.temperature(plan.celsius), units.temperature(top.celsius)),
        Compared(
            _("Within %(near)s of it after") % near, duration_words(plan.first), duration_words(top.first)
        ),
        Compared(
            _("Within %(near)s of it for") % near, duration_words(plan.stayed), duration_words(top.stayed)
        ),
        Compared(
            _("At the plan's end, %(heat)s, after") % {"heat": units.temperature(last_c)},
            duration_words(curve.prediction.minutes),
            _left_behind(curve.minutes, curve.counted, last_c),
        ),
        Compared(
            _("Cone"),
            heat_words(heat) if heat else _("not reckoned"),
            reached_words(log.cone, log.cone_fraction, log.cone_low, log.cone_high)
            if log.computed_with
            else _("not reckoned"),
        ),
    ]


def _left_behind(minutes: Celsius, celsius: Celsius, last_c: float) -> str:
    """After how long the log is last as hot as the plan ends, within NEAR_PEAK_C; a log that stops there says so."""
    hot = np.flatnonzero(celsius >= last_c - NEAR_PEAK_C)
    if not hot.size:
        return _("never so hot")
    known = np.flatnonzero(~np.isnan(celsius))
    after = duration_words(float(minutes[hot[-1]]))
    return _("%(after)s, where the log stops") % {"after": after} if hot[-1] == known[-1] else after
