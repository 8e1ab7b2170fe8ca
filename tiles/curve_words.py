"""A curve in words: what was the case at one moment, hour by hour, and when each cone went down."""

import json
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from django.utils.translation import gettext as _

from inventory.sentences import cone_words
from studio import units
from tiles.curves import Curve, Floats, at
from tiles.log_sentences import mark_words
from tiles.schedule_sentences import clock_words, duration_words

READ_AT = 96  # so many moments the script steps through
MOST_ROWS = 48
OVER_MIN = 20.0  # the climb is told over this long
NEAR_PEAK_C = 10.0


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the table behind the drawing."""

    clock: str
    log: str
    plan: str
    cone: str


@dataclass(frozen=True, slots=True)
class Top:
    """The hottest and its minute; the first minute near it, and how many lie between that and the last."""

    celsius: float
    minute: float
    first: float
    stayed: float


def said_at(curve: Curve, minute: float) -> str:
    """'6:40: 812 °C, climbing 58 °C/h; plan 830 °C; cone 010 is down.'"""
    now, planned = at(curve.minutes, curve.celsius, minute), at(curve.plan_minutes, curve.plan_c, minute)
    said = []
    if now is not None and any(spell.from_min <= minute <= spell.to_min for spell in curve.spells):
        said.append(_("%(degrees)s, in doubt") % {"degrees": units.temperature(now)})
    elif now is not None:
        said.append(f"{units.temperature(now)}{_climb(curve, minute)}")
    elif curve.has_log:
        said.append(_("no reading"))
    if planned is not None:
        said.append(_("plan %(degrees)s") % {"degrees": units.temperature(planned)})
    cone = _down_by(curve, minute)
    if cone:
        said.append(_("cone %(cone)s is down") % {"cone": cone})
    return f"{clock_words(minute)}: {'; '.join(said)}."


def _climb(curve: Curve, minute: float) -> str:
    before, after = (at(curve.minutes, curve.celsius, minute + way * OVER_MIN / 2) for way in (-1, 1))
    if before is None or after is None:
        return ""
    rate = (after - before) / OVER_MIN * 60
    if abs(rate) < 2:
        return ", " + _("holding")
    said = _("climbing %(rate)s") if rate > 0 else _("cooling %(rate)s")
    return ", " + said % {"rate": units.rate(abs(rate))}


def _down_by(curve: Curve, minute: float) -> str:
    down = [fall.cone.label for fall in curve.shown_falls if fall.minute <= minute]
    return down[-1] if down else ""


def steps(curve: Curve) -> str:
    """For the script: the sentence of each moment, as JSON, from the start to the end in equal steps."""
    return json.dumps([said_at(curve, curve.end_min * n / READ_AT) for n in range(READ_AT + 1)])


def hourly(curve: Curve) -> list[Row]:
    """Every hour, or every few hours of a long firing."""
    every = max(1, -(-int(curve.end_min // 60) // MOST_ROWS)) * 60
    moments = range(0, int(curve.end_min) + 1, every)
    return [
        Row(
            clock_words(minute),
            units.temperature(at(curve.minutes, curve.celsius, minute)) or "–",
            units.temperature(at(curve.plan_minutes, curve.plan_c, minute)) or "–",
            _down_by(curve, minute) or "–",
        )
        for minute in moments
    ]


def falls_in_words(curve: Curve) -> list[tuple[str, str]]:
    """When, and which cone."""
    return [(clock_words(fall.minute), cone_words(fall.cone)) for fall in curve.shown_falls]


def near_top(minutes: Floats, celsius: Floats) -> Top | None:
    """The hottest and how long it stayed within NEAR_PEAK_C of it; None where nothing was said."""
    if not len(minutes) or np.isnan(celsius).all():
        return None
    hottest = int(np.nanargmax(celsius))
    near = np.flatnonzero(celsius >= celsius[hottest] - NEAR_PEAK_C)
    first, last = float(minutes[near[0]]), float(minutes[near[-1]])
    return Top(float(celsius[hottest]), float(minutes[hottest]), first, last - first)


def peak_words(curve: Curve) -> str:
    """'Hottest 1231 °C at 9:40; within 10 °C of it for 25 minutes.', of the log without its spikes; '' without one."""
    top = near_top(curve.minutes, curve.counted)
    if top is None:
        return ""
    return _("Hottest %(top)s at %(clock)s; within %(near)s of it for %(stayed)s.") % {
        "top": units.temperature(top.celsius),
        "clock": clock_words(top.minute),
        "near": units.difference(NEAR_PEAK_C),
        "stayed": duration_words(top.stayed),
    }


def spells_in_words(curve: Curve) -> list[str]:
    """What is odd in the readings, with when."""
    return [mark_words(spell.mark, curve.begins_at) for spell in curve.spells]


def describe(curve: Curve) -> str:
    """The drawing in one or two sentences, for those who do not see it."""
    said: Sequence[str] = [
        peak_words(curve),
        _("Planned: %(duration)s.") % {"duration": duration_words(float(curve.plan_minutes[-1]))}
        if len(curve.plan_minutes)
        else "",
    ]
    return " ".join(sentence for sentence in said if sentence)
