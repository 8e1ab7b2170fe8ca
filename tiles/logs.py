"""The log of a firing as numbers, and what is worked out of them."""

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Any

import numpy as np

from tiles.calc.cone_rates import RED_C
from tiles.calc.heat_work import VERSION, HeatWorkError, heat_work
from tiles.calc.log_marks import Mark, counted
from tiles.calc.readings import Celsius, Seconds, unpack
from tiles.models import Firing, FiringLog, LogTakenBack


@dataclass(frozen=True)
class Readings:
    """Second 0 is `begins_at`; of a log that tells no clock it is the start of the firing, or None.

    `celsius` is what the instrument said (NaN: nothing); `counted` is without what a mark says is not the kiln's.
    """

    seconds: Seconds
    celsius: Celsius
    begins_at: datetime | None
    marks: list[Mark]

    @property
    def minutes(self) -> Celsius:
        return self.seconds / 60

    @cached_property
    def counted(self) -> Celsius:
        return counted(self.seconds, self.celsius, self.marks)


def log_of(firing: Firing) -> FiringLog | None:
    """The firing's log, if it has one."""
    try:
        return firing.log
    except FiringLog.DoesNotExist:
        return None


def readings_of(firing: Firing) -> Readings | None:
    """What the instrument said during this firing; None without a log."""
    log = log_of(firing)
    return None if log is None else unpacked(log, firing)


def unpacked(log: FiringLog | LogTakenBack, firing: Firing) -> Readings:
    seconds, celsius = unpack(log.readings)
    marks = log.marks if isinstance(log, FiringLog) else []
    return Readings(seconds, celsius, log.begins_at or firing.started_at, marks)


def reckoned(readings: Readings) -> dict[str, Any]:
    """The columns of a FiringLog that are worked out of its readings: the last, the hottest, and the cone."""
    said, sound = ~np.isnan(readings.celsius), readings.counted
    columns: dict[str, Any] = {
        "count": int(readings.seconds.size),
        "last_s": int(readings.seconds[-1]) if readings.seconds.size else 0,
        "last_c": float(readings.celsius[said][-1]) if said.any() else None,
        **dict.fromkeys(
            ("peak_s", "peak_c", "cone", "cone_fraction", "cone_low", "cone_high", "rate_c_per_h")
        ),
        "computed_with": VERSION,
    }
    if not (~np.isnan(sound)).any():
        return columns
    hottest = int(np.nanargmax(sound))
    columns |= {"peak_s": int(readings.seconds[hottest]), "peak_c": float(sound[hottest])}
    if columns["peak_c"] < RED_C:
        return columns  # nothing cooler bends a cone
    try:
        work = heat_work(readings.minutes, sound)
    except HeatWorkError:
        return columns  # too short, or it begins hot: the readings are kept, the cone is not known
    return columns | {
        "cone": work.cone,
        "cone_fraction": work.fraction,
        "cone_low": work.low,
        "cone_high": work.high,
        "rate_c_per_h": work.rate_c_per_h,
    }
