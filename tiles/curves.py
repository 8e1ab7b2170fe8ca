"""A firing over time: what was planned, what the kiln did, when each cone went down, and what happened meanwhile."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

import numpy as np
from numpy.typing import NDArray

from inventory.calc.cones import Cone
from tiles.calc.heat_work import HeatWorkError, approach
from tiles.calc.log_marks import Mark
from tiles.calc.schedule import left_to_itself, path
from tiles.logs import Readings, readings_of
from tiles.models import Firing
from tiles.predicting import Prediction, predict

Floats = NDArray[np.float64]
# Between two readings further apart than this the line is broken: nobody knows what went on.
GAP_MIN, GAP_STEPS = 20.0, 6.0
SOON_AFTER = 1.25  # times as long as plan and log: so far the drawing reaches for an event


@dataclass(frozen=True, slots=True)
class Fall:
    """A whole cone and the minute at which it went down, by reckoning."""

    cone: Cone
    minute: float


@dataclass(frozen=True, slots=True)
class Spell:
    """What was found wrong in the readings, from one minute to another; `mark` as the log keeps it."""

    code: str
    from_min: float
    to_min: float
    mark: Mark


@dataclass(frozen=True, slots=True)
class Happened:
    """An event of the firing; `minute` None where nobody knows when the log began."""

    at: datetime
    minute: float | None
    words: str


@dataclass(frozen=True, slots=True)
class Curve:
    """Everything in minutes from the start and °C. Without a log `minutes` is empty, without a plan `plan_minutes`.

    The readings have a NaN in every gap, so that no line is drawn over one; `count` is how many there are without.
    `counted` is `celsius` without what a mark says is not the kiln's.
    `falls` are those of the log, `planned_falls` those of the plan.
    """

    plan_minutes: Floats = field(default_factory=lambda: np.empty(0))
    plan_c: Floats = field(default_factory=lambda: np.empty(0))
    minutes: Floats = field(default_factory=lambda: np.empty(0))
    celsius: Floats = field(default_factory=lambda: np.empty(0))
    counted: Floats = field(default_factory=lambda: np.empty(0))
    count: int = 0
    falls: Sequence[Fall] = ()
    planned_falls: Sequence[Fall] = ()
    events: Sequence[Happened] = ()
    spells: Sequence[Spell] = ()
    begins_at: datetime | None = None
    prediction: Prediction | None = None

    @property
    def has_log(self) -> bool:
        return bool(len(self.minutes)) and not np.isnan(self.celsius).all()

    @property
    def is_empty(self) -> bool:
        return not self.has_log and not len(self.plan_minutes)

    @property
    def end_min(self) -> float:
        """The end of plan and log, or what happened soon after; what was noted long after would squeeze the curve."""
        ends = [float(minutes[-1]) for minutes in (self.plan_minutes, self.minutes) if len(minutes)]
        end = max([*ends, 1.0])
        soon = [one.minute for one in self.events if one.minute and one.minute <= end * SOON_AFTER]
        return max([end, *soon])

    @property
    def hottest_c(self) -> float:
        said = [c for c in (self.plan_c, self.celsius) if len(c) and not np.isnan(c).all()]
        return max([*(float(np.nanmax(c)) for c in said), 100.0])

    @property
    def shown_falls(self) -> Sequence[Fall]:
        """Of the log where there is one; a plan's are only reckoned."""
        return self.falls if self.has_log else self.planned_falls


def falls_of(minutes: Floats, celsius: Floats) -> list[Fall]:
    """When each whole cone went down, coolest first."""
    try:
        at, place = approach(minutes, celsius)
    except HeatWorkError:
        return []
    known = ~np.isnan(place)
    at, place = at[known], place[known]
    if not len(place):
        return []
    whole = [cone for cone in Cone.all() if not cone.is_half and place[0] <= cone.rank <= place[-1]]
    return [Fall(cone, float(at[int(np.searchsorted(place, cone.rank))])) for cone in whole]


def schedule_curve(prediction: Prediction) -> Curve:
    """A plan alone."""
    minutes, celsius = path(prediction.segments, pace=prediction.pace)
    return Curve(
        plan_minutes=minutes,
        plan_c=celsius,
        planned_falls=falls_of(*left_to_itself(minutes, celsius)),
        prediction=prediction,
    )


def firing_curve(firing: Firing) -> Curve:
    """A firing with its plan, its log and its events, as far as there are any."""
    plan = schedule_curve(predict(firing.plan, firing.kiln)) if firing.plan else Curve()
    found = readings_of(firing)
    begins_at = (found.begins_at if found else None) or firing.started_at
    return Curve(
        plan_minutes=plan.plan_minutes,
        plan_c=plan.plan_c,
        planned_falls=plan.planned_falls,
        prediction=plan.prediction,
        events=[_happened(event, begins_at) for event in firing.events.filter(taken_back_at=None)],
        begins_at=begins_at,
        **(_logged(found) if found else {}),
    )


def _logged(found: Readings) -> dict[str, Any]:
    """What is drawn of the readings as they stand; the cones are reckoned without what the marks rule out."""
    minutes, celsius = broken(found.minutes, found.celsius)
    return {
        "minutes": minutes,
        "celsius": celsius,
        "counted": broken(found.minutes, found.counted)[1],
        "count": len(found.seconds),
        "falls": falls_of(found.minutes, found.counted),
        "spells": [Spell(one["code"], one["from"] / 60, one["to"] / 60, one) for one in found.marks],
    }


def _happened(event: Any, begins_at: datetime | None) -> Happened:
    minute = (event.at - begins_at).total_seconds() / 60 if begins_at else None
    return Happened(event.at, minute, event.words)


def broken(minutes: Floats, celsius: Floats) -> tuple[Floats, Floats]:
    """The same readings with a NaN wherever two are too far apart to draw a line between."""
    if len(minutes) < 3:
        return minutes, celsius
    steps = np.diff(minutes)
    far = np.flatnonzero(steps > max(GAP_MIN, GAP_STEPS * float(np.median(steps))))
    return np.insert(minutes, far + 1, minutes[far]), np.insert(celsius, far + 1, np.nan)


def at(minutes: Floats, celsius: Floats, minute: float) -> float | None:
    """°C at a minute, between the readings around it; None outside them or where one of them says nothing."""
    if not len(minutes) or not minutes[0] <= minute <= minutes[-1]:
        return None
    value = float(np.interp(minute, minutes, celsius))
    return None if np.isnan(value) else value
