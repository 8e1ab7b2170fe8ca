"""The readings of a file, read as a guess says: times put in a row from 0, temperatures in °C, and what was odd."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from itertools import pairwise
from typing import Any

import numpy as np

from tiles.calc.log_cells import clocks, has_zone, moments, numbers, unit_of
from tiles.calc.log_counted import IN_SECONDS
from tiles.calc.log_guess import Guess
from tiles.calc.log_marks import Mark, find_marks, in_order, mark, runs
from tiles.calc.log_table import cells_of, column, lines_of
from tiles.calc.log_text import FEWEST_ROWS, LogFileError
from tiles.calc.readings import (
    HIGHEST_C,
    LONGEST_S,
    LOWEST_C,
    MOST_READINGS,
    Celsius,
    Seconds,
    fahrenheit_to_celsius,
    one_for_each_second,
)

# Of a clock without a date a step back of more than half a day is midnight.
HALF_A_DAY, A_DAY = 12 * 3600, 24 * 3600
KELVIN_AT_0_C = 273.15
QUARTER = 900  # clocks are changed at a full quarter of an hour
TELLS_DAYS, BESIDE_A_DAY = ("moment", "unix"), ("clock", "h_m_s")
LAST_YEAR = (
    4_102_444_800  # 2100: no firing is later, and none is before 1970, which a clock says that was never set
)
# What a reading is never: a column in which more than this share is impossible is no temperature.
MOST_IMPOSSIBLE = 0.5


@dataclass(frozen=True, slots=True)
class LogRead:
    """What a file came to. `begins` is seconds since 1970 by the file's own clock, with its zone or the studio's;
    `clock` the seconds after midnight of a file that tells no day.
    """

    seconds: Seconds
    celsius: Celsius
    begins: float | None
    clock: float | None
    has_zone: bool
    marks: list[Mark]
    resets: int


@dataclass(frozen=True, slots=True)
class FiredWhen:
    """What is known of when a file's readings were taken: near `started`, and none after `latest`."""

    started: datetime
    latest: datetime

    def day_of(self, clock_s: float, lasts_s: float, zone: tzinfo | None = None) -> datetime:
        """The moment at which a log began that tells its clock and no day, by the clocks of `zone`.

        The nearest to the start with which its last reading is not still to come: who tapped 'firing' late had
        fired since yesterday, and soon after midnight since the evening before that.

        >>> from datetime import UTC
        >>> just_after = datetime(2026, 3, 4, 0, 1, tzinfo=UTC)
        >>> FiredWhen(just_after, just_after).day_of(22 * 3600, 5 * 3600, UTC).isoformat()
        '2026-03-02T22:00:00+00:00'
        """
        started = self.started.astimezone(zone)
        midnight = started.replace(hour=0, minute=0, second=0, microsecond=0)
        days = [midnight + timedelta(days=day, seconds=clock_s) for day in (-2, -1, 0, 1)]
        over = [moment for moment in days if moment + timedelta(seconds=lasts_s) <= self.latest]
        return min(over or days, key=lambda moment: abs(moment - started))


def read(text: str, how: Guess, zone: tzinfo | None = None, fired: FiredWhen | None = None) -> LogRead:
    """The readings of a file. One that names no zone was written by the clocks of `zone`, as far as known.

    `fired` tells the day of a clock without one.

    Raises LogFileError: one_row, unreadable, no_numbers, impossible, mixed_units, backwards_in_part, too_long,
    too_many, in_an_instant, no_such_year. Where the time starts anew and `how.resets` does not say what to do, the
    longest part is shown and `resets` counts the places, so that a page can ask.

    >>> from tiles.calc.log_guess import guess
    >>> text = "s,C\\n0,20\\n60,25\\n120,31\\n"
    >>> read(text, guess(text)).celsius.tolist()
    [20.0, 25.0, 31.0]
    """
    rows = cells_of(lines_of(text)[how.skip :], how.delimiter)
    if len(rows) > MOST_READINGS:
        raise LogFileError("too_many", most=MOST_READINGS)
    time, said = _times(rows, how), _celsius(rows, how)
    usable = np.isfinite(time)
    unread = int((~usable).sum())
    if unread > len(rows) / 2:
        raise LogFileError("unreadable", rows=len(rows), unread=unread)
    time, said = time[usable], said[usable]
    if time.size < FEWEST_ROWS:
        raise LogFileError("one_row")
    marks: list[Mark] = [mark("unread", 0, 0, rows=unread)] if unread else []
    if (np.diff(time) < 0).mean() > 0.9:
        time, said = time[::-1], said[::-1]
        marks.append(mark("newest_first", 0, 0))
    tells_days = how.time_kind in TELLS_DAYS or (how.day is not None and how.time_kind in BESIDE_A_DAY)
    has_its_own = how.time_kind == "unix" or _says_zone(rows, how)
    if tells_days and not has_its_own and zone is not None:
        time = _on_one_clock(time, zone)
    if how.time_kind == "clock" and how.day is None:
        time = _without_days(time, zone, fired)
    time, said, resets, cut = _in_a_row(time, said, how)
    begins = float(time[0])
    _judge_times(begins, float(time[-1]), tells_days=tells_days)
    seconds = np.rint(time - begins).astype(np.int64)
    impossible = ~np.isnan(said) & ((said < LOWEST_C) | (said > HIGHEST_C))
    _judge(said, impossible)
    marks += [mark("open_circuit", seconds[a], seconds[b], readings=b - a + 1) for a, b in runs(impossible)]
    marks += [mark("reset", seconds[at], seconds[at], **cut) for at in resets[: 1 if cut else None]]
    seconds, celsius = one_for_each_second(seconds, np.where(impossible, np.nan, said))
    if seconds.size < FEWEST_ROWS:
        raise LogFileError("in_an_instant")
    marks += [one for one in find_marks(seconds, celsius) if not _is_said(one, marks)]
    return LogRead(
        seconds=seconds,
        celsius=celsius,
        begins=begins if tells_days else None,
        clock=begins % A_DAY if how.time_kind == "clock" and how.day is None else None,
        has_zone=has_its_own,
        marks=in_order(marks),
        resets=len(resets),
    )


def _without_days(time: Any, zone: tzinfo | None, fired: FiredWhen | None) -> Any:
    """Clock times without a day, over midnight; on one clock where it is known which night it was."""
    steps = np.diff(time, prepend=time[0])
    time = time + A_DAY * np.cumsum(steps < -HALF_A_DAY) - A_DAY * np.cumsum(steps > HALF_A_DAY * 1.9)
    if zone is None or fired is None:
        return time
    began = fired.day_of(float(time[0] % A_DAY), float(np.ptp(time)), zone)
    before = float((began.replace(tzinfo=None) - datetime(1970, 1, 1)).total_seconds() - time[0])
    return _on_one_clock(time + before, zone) - before


def _says_zone(rows: Sequence[Sequence[str]], how: Guess) -> bool:
    return how.time_kind == "moment" and has_zone(rows[0][how.time])


def _times(rows: Sequence[Sequence[str]], how: Guess) -> Any:
    cells = column(rows, how.time)
    if how.time_kind == "moment":
        return moments(cells, days_first=how.days_first)
    if how.time_kind in ("clock", "h_m_s", "m_s"):
        said = clocks(cells)
        if how.time_kind == "m_s":
            return said / 60
        if how.day is None:
            return said
        days = [f"{day} 0:00" for day in column(rows, how.day)]
        return said + moments(days, days_first=how.days_first)
    counted = numbers(cells, decimal_comma=how.decimal_comma)
    counted[~np.isfinite(counted)] = np.nan
    if how.time_kind == "unix":
        while np.nanmedian(counted) > 1e11:  # thousandths, millionths ...
            counted = counted / 1000
        return counted
    return counted * IN_SECONDS[how.time_kind]


def _on_one_clock(time: Any, zone: tzinfo) -> Any:
    """Local times with the clock of the first going on, where `zone` puts its clocks forward or back meanwhile.

    Of an hour that comes twice the second one begins where the times step back.
    """
    if not (time.min() >= 0 and time.max() < LAST_YEAR and np.ptp(time) <= LONGEST_S):
        return time  # refused later
    quarters, which = np.unique(np.floor_divide(time, QUARTER), return_inverse=True)
    first, second = (
        np.array([_ahead(float(quarter) * QUARTER, zone, fold) for quarter in quarters])[which]
        for fold in (0, 1)
    )
    twice = first > second
    again = np.maximum.accumulate(twice & (np.diff(time, prepend=time[0]) < 0))
    ahead = np.where(twice & again, second, first)
    return time - (ahead - ahead[0])


def _ahead(local: float, zone: tzinfo, fold: int) -> float:
    """Seconds by which `zone` is ahead of universal time at a local time."""
    moment = datetime(1970, 1, 1, tzinfo=zone, fold=fold) + timedelta(seconds=local)
    offset = moment.replace(fold=fold).utcoffset()
    return offset.total_seconds() if offset else 0.0


def _celsius(rows: Sequence[Sequence[str]], how: Guess) -> Any:
    cells = column(rows, how.temperature)
    said = numbers(cells, decimal_comma=how.decimal_comma)
    if not (np.isfinite(said)).any():
        raise LogFileError("no_numbers")
    units = {unit_of(cell) for cell in cells[::7]} | {unit_of(cell) for cell in cells[:50]}
    if {"c", "f"} <= units or _column_mixes(rows):
        raise LogFileError("mixed_units")
    if how.unit == "k":
        return said - KELVIN_AT_0_C
    return fahrenheit_to_celsius(said) if how.unit == "f" else said


def _column_mixes(rows: Sequence[Sequence[str]]) -> bool:
    """A column beside the temperature that says C in some rows and F in others."""
    words = {"c": "c", "°c": "c", "celsius": "c", "f": "f", "°f": "f", "fahrenheit": "f"}
    for index in range(len(rows[0])):
        cells = {cell.strip().lower() for cell in column(rows, index)[:: max(len(rows) // 20_000, 1)]}
        if len(cells) <= 3 and {words.get(cell) for cell in cells} >= {"c", "f"}:
            return True
    return False


def _in_a_row(time: Any, said: Any, how: Guess) -> tuple[Any, Any, list[int], dict[str, Any]]:
    """Times that never fall; where they start anew, the parts joined on or the longest of them."""
    back = [int(i) + 1 for i in np.flatnonzero(np.diff(time) < 0)]
    if not back:
        return time, said, [], {}
    if len(back) > max(20, time.size // 20):
        raise LogFileError("backwards_in_part", times=len(back))
    edges = [0, *back, time.size]
    if how.resets == "join":
        forward = np.diff(time)
        step = float(np.median(forward[forward > 0])) if (forward > 0).any() else 1.0
        time = time.copy()
        for start, end in zip(back, edges[2:], strict=True):
            time[start:end] += time[start - 1] + step - time[start]
        return time, said, back, {}
    a, b = max(pairwise(edges), key=lambda part: time[part[1] - 1] - time[part[0]])
    return (
        time[a:b],
        said[a:b],
        [0] * len(back),
        {"left_out": int(time.size - (b - a)), "parts": len(back) + 1},
    )


def _judge_times(first: float, last: float, *, tells_days: bool) -> None:
    if not last - first <= LONGEST_S:
        raise LogFileError("too_long", days=(last - first) // A_DAY, most=LONGEST_S // A_DAY)
    if tells_days and not 0 <= first < LAST_YEAR:
        raise LogFileError("no_such_year")


def _judge(said: Any, impossible: Any) -> None:
    known = ~np.isnan(said)
    if impossible.sum() > MOST_IMPOSSIBLE * known.sum():
        raise LogFileError("impossible", hottest=float(np.nanmax(said)))


def _is_said(one: Mark, marks: list[Mark]) -> bool:
    """A silence that is an open circuit is said once."""
    return one["code"] == "silent" and any(
        m["code"] == "open_circuit" and m["from"] <= one["from"] and one["to"] <= m["to"] for m in marks
    )
