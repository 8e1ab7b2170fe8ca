"""Readings that a kiln's instrument sends while it is hot: in small batches, in any order, as often as it likes."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from studio.actions import record_change
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.logs import AHEAD, TAKES_READINGS, follow, in_words, write
from tiles.calc.log_marks import find_marks
from tiles.calc.readings import (
    HIGHEST_C,
    LONGEST_S,
    LOWEST_C,
    MOST_READINGS,
    fahrenheit_to_celsius,
    merge,
    unpack,
)
from tiles.logs import Readings, log_of
from tiles.models import Firing, FiringLog

MOST_AT_ONCE = 1000
MOST_SAID = 10  # of the rows that are wrong; the rest of a batch are seldom wrong for another reason
BEFORE_THE_START = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Sent:
    """The firing's log after a batch, and how many of the readings were new."""

    log: FiringLog
    added: int


@transaction.atomic
def send_readings(*, by: Person, firing: Firing, readings: list[dict[str, Any]]) -> Sent:
    """Put readings to the live log of a firing: each `at` or `elapsed_s`, with `celsius` or `fahrenheit` or neither.

    The same batch twice adds nothing; of two readings of one second the hotter stays. Nothing of a batch is kept
    when one of its rows cannot be.
    """
    require(by, "firing.log")
    # Who sends at the same moment queues here. The firing's version stays: a form that is open is not disturbed.
    firing = Firing.objects.select_for_update(no_key=True).get(pk=firing.pk)
    log = log_of(firing)
    _taken(firing, log)
    times, celsius = _columns(readings, firing)
    by_clock = "at" in readings[0]
    if log is None:
        log = FiringLog(
            firing=firing, source=FiringLog.Source.LIVE, how={"time": "at" if by_clock else "elapsed_s"}
        )
    elif (log.begins_at is not None) != by_clock:
        said = _("This log counts its time as %(field)s. Send that, or take the log back first.")
        raise Refused({"readings": said % {"field": log.how.get("time", "at")}})
    known = unpack(log.readings) if log.count else (np.array([], np.int64), np.array([]))
    zero = 0
    if by_clock:
        began = int(log.begins_at.timestamp()) if log.begins_at else int(times.min())
        # An earlier reading may come later: then second 0 moves back, for all of them.
        zero = min(began, int(times.min()))
        known = (known[0] + (began - zero), known[1])
    before = int(known[0].size)
    seconds, merged = merge(known, (times - zero, celsius))
    _not_too_much(seconds)
    begins_at = datetime.fromtimestamp(zero, UTC) if by_clock else None
    same = before == seconds.size and np.array_equal(merged, known[1], equal_nan=True)
    if same and log.count:
        return Sent(log, 0)
    log.last_sent_at = timezone.now()
    first = log.count == 0
    write(log, firing, Readings(seconds, merged, begins_at, find_marks(seconds, merged)))
    if first:
        record_change(by=by, verb="began to send a log", obj=firing, after=in_words(log))
    follow(firing, log)
    return Sent(log, int(seconds.size) - before)


def _taken(firing: Firing, log: FiringLog | None) -> None:
    """Whether this firing takes readings now."""
    if firing.state not in TAKES_READINGS:
        said = _(
            "%(firing)s is %(state)s: readings are taken while a kiln is loaded, firing or cooling."
            " Say first that it is firing, or send the whole log as a file."
        )
        raise Refused({"readings": said % {"firing": firing, "state": firing.get_state_display()}})
    if log is not None and log.source != FiringLog.Source.LIVE:
        said = _("The log of %(firing)s was kept from a file. Take that back first to send readings.")
        raise Refused({"readings": said % {"firing": firing}})


def _columns(readings: list[dict[str, Any]], firing: Firing) -> tuple[Any, Any]:
    """Whole seconds (since 1970, or elapsed) and °C of the rows; a sentence for each row that cannot be kept."""
    if not readings:
        raise Refused({"readings": _("Send at least one reading.")})
    if len(readings) > MOST_AT_ONCE:
        said = _("Send at most %(most)s readings at once, and the rest after them.")
        raise Refused({"readings": said % {"most": MOST_AT_ONCE}})
    now, clock = timezone.now(), "at" if "at" in readings[0] else "elapsed_s"
    earliest = (
        firing.started_at - BEFORE_THE_START if firing.started_at else now - timedelta(seconds=LONGEST_S)
    )
    problems: dict[str, str] = {}
    times, celsius = [], []
    for i, row in enumerate(readings):
        if clock not in row:
            problems[f"readings.{i}"] = _("Count the time of all readings alike: at or elapsed_s.")
            continue
        when, heat = row[clock], _celsius(row)
        if sentence := _wrong_time(when, now, earliest):
            problems[f"readings.{i}.{clock}"] = sentence
        elif heat is not None and not LOWEST_C <= heat <= HIGHEST_C:
            said = _(
                "%(heat)s °C is none that a kiln has: send %(low)s to %(high)s °C, or null for no reading;"
                " degrees Fahrenheit are sent as fahrenheit."
            )
            words = {"heat": f"{heat:.6g}", "low": f"{LOWEST_C:.0f}", "high": f"{HIGHEST_C:.0f}"}
            problems[f"readings.{i}"] = said % words
        times.append(int(when.timestamp() if isinstance(when, datetime) else when))
        celsius.append(np.nan if heat is None else heat)
    if problems:
        raise Refused(dict([*problems.items()][:MOST_SAID]))
    return np.array(times, dtype=np.int64), np.array(celsius, dtype=np.float64)


def _celsius(row: dict[str, Any]) -> float | None:
    if (fahrenheit := row.get("fahrenheit")) is not None:
        return float(fahrenheit_to_celsius(fahrenheit))
    heat = row.get("celsius")
    return None if heat is None else float(heat)


def _wrong_time(when: datetime | float, now: datetime, earliest: datetime) -> str:
    if not isinstance(when, datetime):
        return (
            "" if 0 <= when <= LONGEST_S else _("Count the seconds from the first reading, at most 14 days.")
        )
    if when > now + AHEAD:
        return _("That is still to come. Set the clock of the instrument, and its time zone.")
    if when < earliest:
        return _(
            "That is long before this firing began. Set the clock of the instrument, or choose its firing."
        )
    return ""


def _not_too_much(seconds: Any) -> None:
    if seconds[-1] > LONGEST_S:
        raise Refused({"readings": _("A log holds at most 14 days. Is this another firing?")})
    if seconds.size > MOST_READINGS:
        said = _("A log holds at most %(most)s readings. Send them less often.")
        raise Refused({"readings": said % {"most": MOST_READINGS}})
