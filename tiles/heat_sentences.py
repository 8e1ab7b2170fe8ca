"""Words for the heat work of a log: the cone it amounts to with its interval, and what there is to say beside it."""

from collections.abc import Callable
from typing import Any, Protocol

from django.utils.functional import Promise
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from inventory.calc.cones import Cone
from inventory.sentences import cone_words
from studio import units
from tiles.calc.findings import Finding
from tiles.calc.hot_time import COLDEST_C, HOTTEST_C, HeatWorkError

FINDINGS: dict[str, Promise] = {
    "below_first_red": _(
        "The log goes no higher than %(peak_c)s, and below first red heat no cone bends. "
        "If the kiln was hotter, look whether the file is in °C or °F."
    ),
    "below_coolest_cone": _(
        "At %(peak_c)s and this pace not even %(coolest)s, the coolest in the table, was down."
    ),
    "beyond_hottest_cone": _(
        "The log goes beyond %(hottest)s, the hottest in the table. How far cannot be said: "
        "if that is not what the kiln did, its thermocouple or the file is to be doubted."
    ),
    "ends_at_peak": _(
        "The log ends at its hottest, %(last_c)s. What the kiln did after that is not counted, "
        "so the cone may have been a hotter one."
    ),
    "climb_not_seen": _(
        "The log does not hold the last 100 °C of the climb, so what was done before it is not counted "
        "and the cone may have been a hotter one. Keep the log from the start next time."
    ),
    "gap_near_peak": _(
        "Near the peak there are %(minutes)s minutes without a reading. They are counted as a straight line, "
        "which may be wrong. Trust the witness cones rather than this."
    ),
    "jump_near_peak": _(
        "Near the peak the reading jumps faster than any kiln can (minute %(minute)s). A thermocouple that comes "
        "loose does so. Look at the curve, and trust the witness cones rather than this."
    ),
    "rate_outside_table": _(
        "The last 100 °C climbed at %(rate)s. The maker's table goes from %(slowest)s to %(fastest)s, "
        "so this is carried on beyond what was measured."
    ),
    "hold_is_estimate": _(
        "%(minutes)s minutes near the peak count as a hold. How fast a hold bends a cone is published with figures "
        "four times apart: the range shows it. A witness cone beside the pots overrules it."
    ),
    "iron_in_cones": _(
        "Cones 010 to 3 hold iron: in reduction or with sulphur about they bend otherwise than the table says. "
        "Iron-free ones are made for that."
    ),
}

SOURCES: dict[str, Promise] = {
    "log": _("the log itself"),
    "cone_table": _("the maker's end points, fitted within 4 °C"),
    "cone_maker": _("the cones' maker"),
    "hold_statements": _("published statements on holds"),
}

ERRORS: dict[str, Promise] = {
    "no_readings": _("There is no reading of a temperature. Give at least one pair of minutes and °C."),
    "lengths_differ": _("There are %(minutes)s times and %(celsius)s temperatures. Give one for each."),
    "not_a_time": _("Reading %(row)s has no time. Write the minutes as a number."),
    "times_backwards": _(
        "Reading %(row)s is earlier than the one before it. Put them in the order of their times."
    ),
    "too_long": _("The log runs over more than 100 days. Look whether its times are in minutes."),
    "not_a_temperature": _(
        "%(value)s °C in reading %(row)s cannot be a kiln's temperature. "
        "Give °C between %(coldest)s and %(hottest)s."
    ),
    "unknown_cone_type": _("There is no such kind of cone. Choose self-supporting, large or small."),
    "unknown_cone": _(
        "No end point of %(cone)s is published for this kind of cone. Choose another cone or kind."
    ),
    "rate_out_of_range": _("Nothing is known of a climb of %(rate_c_per_h)s °C/h. Give 1 to 2000 °C/h."),
}

# How far to the next cone, in fifths: finer would say more than is known.
WAY = (
    _("%(cone)s, just down"),
    _("%(cone)s, a fifth of the way to %(next)s"),
    _("%(cone)s, two fifths of the way to %(next)s"),
    _("%(cone)s, three fifths of the way to %(next)s"),
    _("%(cone)s, four fifths of the way to %(next)s"),
    _("%(cone)s, almost %(next)s"),
)


class Reached(Protocol):
    """What words need: a HeatWork, or anything that keeps the same four."""

    @property
    def cone(self) -> Cone | None: ...
    @property
    def fraction(self) -> float | None: ...
    @property
    def low(self) -> Cone | None: ...
    @property
    def high(self) -> Cone | None: ...


def heat_words(heat: Reached) -> str:
    """'cone 6, two fifths of the way to 7 (6 to 7)'."""
    return reached_words(heat.cone, heat.fraction, heat.low, heat.high)


def reached_words(cone: Cone | None, fraction: float | None, low: Cone | None, high: Cone | None) -> str:
    """The cone of a log with its interval, from what is kept of it."""
    if cone is None:
        return _now("no cone down (at most %(high)s)") % {"high": high} if high else _now("no cone down")
    said = _now("cone %(cone)s") % {"cone": cone}
    between = interval_words(low, high)
    if fraction is None:
        estimate = _now("%(cone)s or hotter") % {"cone": said}
    else:
        estimate = str(WAY[round(fraction * 5)]) % {"cone": said, "next": _next_whole(cone)}
        if low == high:  # which cones are down is known, not how far the next one is
            between = _now("%(cone)s, not yet %(next)s") % {"cone": cone, "next": _next_whole(cone)}
    return _now("%(estimate)s (%(range)s)") % {"estimate": estimate, "range": between}


def interval_words(low: Cone | None, high: Cone | None) -> str:
    """'6 to 7'; '6' alone where both ends are the same cone."""
    if low == high:
        return str(low) if low else _now("no cone")
    coolest = low or _now("no cone")
    return _now("%(low)s to %(high)s") % {"low": coolest, "high": high}


def _next_whole(cone: Cone) -> Cone:
    return Cone(cone.rank + 2)


IN_WORDS: dict[str, Callable[[Any], object]] = {
    "coolest": cone_words,
    "hottest": cone_words,
    "peak_c": units.temperature,
    "last_c": units.temperature,
    "minute": round,
    "rate": units.rate,
    "slowest": units.rate,
    "fastest": units.rate,
}


def heat_sentence(finding: Finding) -> str:
    """A finding of heat work in plain words."""
    words = {name: IN_WORDS.get(name, str)(value) for name, value in finding.details.items()}
    return str(FINDINGS[finding.code]) % words


def heat_source(finding: Finding) -> str:
    """What a finding of heat work rests on."""
    return str(SOURCES[finding.source])


def heat_error_sentence(error: HeatWorkError) -> str:
    """Why a log cannot be reckoned with, and what to do."""
    limits = {"coldest": round(COLDEST_C), "hottest": round(HOTTEST_C)}
    return str(ERRORS[error.code]) % {**limits, **error.params}
