"""Schedules in words: what is to be said of one, what cannot be one, its segments and how long it takes."""

from collections.abc import Callable, Sequence
from typing import Any

from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from inventory.calc.cones import Cone
from inventory.sentences import cone_words
from studio import units
from tiles.calc.schedule import START_C, ScheduleError, Segment, segments_of

# Beside those of tiles/sentences.py, which takes them in.
FINDINGS = {
    "segment_above_kiln": _(
        "It goes to %(to)s, hotter than the kiln's highest cone ends: %(kiln_high)s. The kiln may never get there, "
        "or be damaged on the way. Lower the target, or choose another kiln."
    ),
    "predicted_above_kiln": _(
        "It is reckoned to reach %(predicted)s, and the kiln goes no higher than %(kiln_high)s. "
        "Lower the target or shorten the hold, or choose another kiln."
    ),
    "predicted_off_target.above": _(
        "It is meant for %(target)s, and is reckoned to reach %(predicted)s. "
        "Lower the last target or shorten the hold, or change the cone it is meant for."
    ),
    "predicted_off_target.below": _(
        "It is meant for %(target)s, and is reckoned to reach only %(predicted)s. "
        "Raise the last target, climb more slowly at the end or hold longer, or change the cone it is meant for."
    ),
    "predicted_outside_body.above": _(
        "It is reckoned to reach %(predicted)s, and %(name)s is made for %(range)s. "
        "Hotter than that it may bloat, slump or melt onto the shelf. Take it out, or choose a cooler schedule."
    ),
    "predicted_outside_body.below": _(
        "It is reckoned to reach %(predicted)s, and %(name)s matures at %(range)s. "
        "Cooler than that it stays porous and weak. Take it out, or choose a hotter schedule."
    ),
    "predicted_outside_glaze.above": _(
        "It is reckoned to reach %(predicted)s, and %(name)s is meant for %(range)s. Hotter than meant it may run "
        "off or burn away. Put something under what carries it, or choose a cooler schedule."
    ),
    "predicted_outside_glaze.below": _(
        "It is reckoned to reach %(predicted)s, and %(name)s is meant for %(range)s. Cooler than meant it may stay "
        "dry and rough. Choose a hotter schedule, or leave it for another firing."
    ),
    "climb_unlikely": _(
        "It climbs at %(rate)s. Hardly any kiln goes faster than %(most)s: it will lag behind, take longer and reach "
        "a hotter cone than is reckoned here. Write what the kiln can do, or leave the rate empty."
    ),
    "drying_quick": _(
        "It is past %(to)s after %(minutes)s. Greenware that is not bone dry may burst from steam; "
        "give it %(least)s or more until then, thick ware much more."
    ),
    "quartz_fast": _(
        "It climbs at %(rate)s past %(quartz)s, where quartz in the clay grows at a stroke. Thick or large ware may "
        "crack. Slow down to %(most)s or less shortly before and after, unless the ware is thin and small."
    ),
    "quartz_cooled_fast": _(
        "It cools at %(rate)s past %(quartz)s, where quartz in the clay shrinks at a stroke. The ware may crack "
        "right through. Cool at %(most)s or less there, or let the closed kiln cool by itself."
    ),
    "bisque_tight": _(
        "This bisque goes to %(cone)s. Above %(most)s clay may become too tight to take glaze well. "
        "Bisque cooler, unless that is meant: a body of low maturity, or a glaze sprayed on warm ware."
    ),
    "hold_short": _(
        "It stays at the top for %(minutes)s. Many glazes want %(least)s or more there for their bubbles to heal; "
        "shorter, pinholes may stay. Lengthen the hold and lower the target a little, because a hold adds heat work."
    ),
    "hold_long": _(
        "It stays near the top for %(minutes)s. Such a hold may be worth another cone, so glazes may run. "
        "Shorten it or lower the target, and let a witness cone tell."
    ),
    "no_slow_cooling": _(
        "%(names)s is expected to be matte, and nothing here cools slowly between %(zone_from)s and %(zone_to)s. "
        "A matte that cools too fast may come out glossier. Add a ramp down of %(most)s or less there."
    ),
}

SOURCES = {
    "heat_work": _("reckoned from published cone end points; common practice differs on holds"),
    "controller_manual": _("a controller's manual; common practice"),
    "quartz": _("published advice on quartz inversion"),
    "cone_leaflet": _("the cone maker's leaflet; reports differ"),
}

REFUSALS = {
    "not_rows": _("Give the segments as a list, each with rate_c_per_h, to_c and hold_min."),
    "none": _("A schedule needs at least one segment: where to go, and how fast."),
    "too_many": _("That is more than %(most)s segments. Leave some out, or make two schedules of it."),
    "unknown_field": _("Segment %(row)s: there is no %(field)s here, only rate_c_per_h, to_c and hold_min."),
    "missing": _("Segment %(row)s: say where it goes to."),
    "not_a_number": _("Segment %(row)s: write numbers only, such as 100, 1020 and 15."),
    "out_of_range.rate_c_per_h": _(
        "Segment %(row)s: a rate lies between %(low)s and %(high)s. Leave it empty for as fast as the kiln goes; "
        "that it cools is told by its target."
    ),
    "out_of_range.to_c": _(
        "Segment %(row)s: a target lies between %(low)s and %(high)s. Is it in the right unit?"
    ),
    "out_of_range.hold_min": _("Segment %(row)s: a hold lies between %(low)s and %(high)s minutes."),
    "goes_nowhere": _("Segment %(row)s goes nowhere and does not hold. Leave it out, or change its target."),
    "too_long": _("This would take more than %(days)s days. Look at its slowest rate again."),
}


def _predicted(ends: tuple[Cone | None, Cone | None]) -> str:
    return predicted_words(*ends)


def _at_most(c_per_hour: float) -> str:
    """A rate to stay below, down to a five: it is a rule of thumb, and who keeps to it must not be told again."""
    shown = units.per_hour(c_per_hour)
    return units.rate(units.from_per_hour(shown - shown % 5))


def _names(names: Sequence[str]) -> str:
    return ", ".join(names)


IN_WORDS: dict[str, Callable[[Any], object]] = {
    "to": units.temperature,
    "quartz": units.temperature,
    "zone_from": units.temperature,
    "zone_to": units.temperature,
    "rate": units.rate,
    "most": lambda most: cone_words(most) if isinstance(most, Cone) else _at_most(most),
    "predicted": _predicted,
    "cone": cone_words,
    "names": _names,
    "minutes": lambda minutes: duration_words(minutes),
    "least": lambda minutes: duration_words(minutes),
}


def predicted_words(low: Cone | None, high: Cone | None) -> str:
    """'cone 5 to 7', 'cone 6', or that it stays below every cone."""
    if high is None:
        return str(_("less than cone %(cone)s") % {"cone": Cone.parse("022").label})
    if low is None:
        return str(_("cone %(high)s at most") % {"high": high.label})
    if low == high:
        return str(_("cone %(cone)s") % {"cone": low.label})
    return str(_("cone %(low)s to %(high)s") % {"low": low.label, "high": high.label})


def duration_words(minutes: float) -> str:
    """'40 minutes', '2 h', '8 h 20 min'."""
    whole = round(minutes)
    hours, rest = divmod(whole, 60)
    if not hours:
        return ngettext("%(n)s minute", "%(n)s minutes", whole) % {"n": whole}
    if not rest:
        return str(_("%(hours)s\u00a0h") % {"hours": hours})
    return str(_("%(hours)s\u00a0h %(minutes)s\u00a0min") % {"hours": hours, "minutes": rest})


def clock_words(minutes: float) -> str:
    """A moment of a firing by its own clock: '6:40' from the start."""
    hours, rest = divmod(round(minutes), 60)
    return f"{hours}:{rest:02d}"


def segment_words(segment: Segment, before_c: float = START_C) -> str:
    """'100 °C/h to 620 °C, hold 15 minutes', 'as fast as it goes to 1100 °C', 'cool at 60 °C/h to 760 °C'."""
    to, rate = units.temperature(segment.to_c), units.rate(segment.rate_c_per_h)
    if segment.to_c == before_c:
        return str(_("hold %(to)s for %(hold)s") % {"to": to, "hold": duration_words(segment.hold_min)})
    cools = segment.to_c < before_c
    if not rate:
        said = _("cool by itself to %(to)s") if cools else _("as fast as it goes to %(to)s")
    else:
        said = _("cool at %(rate)s to %(to)s") if cools else _("%(rate)s to %(to)s")
    words = str(said % {"rate": rate, "to": to})
    if segment.hold_min:
        words = str(_("%(ramp)s, hold %(hold)s") % {"ramp": words, "hold": duration_words(segment.hold_min)})
    return words


def segments_words(segments: Sequence[Segment]) -> list[str]:
    before = [START_C, *(segment.to_c for segment in segments)]
    return [segment_words(segment, at) for segment, at in zip(segments, before, strict=False)]


def kept_segments_words(rows: Any) -> str:
    """Kept segments in one line, for the history."""
    try:
        return "; ".join(segments_words(segments_of(rows))) if rows else str(_("none"))
    except ScheduleError:
        return str(_("segments of an earlier kind"))


def refusal_words(error: ScheduleError) -> str:
    """What is wrong with a schedule, and what to do."""
    by_field: dict[str, Callable[[Any], str]] = {"rate_c_per_h": units.rate, "to_c": units.temperature}
    shown = by_field.get(error.field, "{:g}".format)
    key = f"{error.code}.{error.field}"
    words: dict[str, object] = {**error.params, "row": error.row, "field": error.field}
    words |= {name: shown(error.params[name]) for name in ("low", "high") if name in error.params}
    return str(REFUSALS[key if key in REFUSALS else error.code]) % words
