"""The words about a kiln that cools: when it is expected, why nobody can tell, and what to take care of."""

from datetime import datetime, timedelta

from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from studio import units
from tiles.calc.opening import Published
from tiles.cooling_now import CoolingNow

NOT_LEAVE = _("a forecast from the readings, not leave to open; the manual of the kiln comes first")
NEITHER = _("that is not leave to open either; the manual of the kiln comes first")
TROUBLES = {
    "passed": _("The instrument reads %(to)s or less by now. That is a reading, not leave to open."),
    "too_few": _("No forecast yet: it needs half an hour of cooling at least."),
    "stopped": _("No forecast: the readings stopped %(at)s. Look at the instrument."),
    "ahead": _(
        "No forecast: by the log its last reading is still to come, %(at)s. Look at the instrument's clock and its "
        "time zone."
    ),
    "lost": _(
        "No forecast: the thermocouple says nothing. What it last said tells nothing of how hot it is now."
    ),
    "stuck": _(
        "No forecast: the same figure has come since %(at)s. Look at the instrument and its thermocouple."
    ),
    "step": _("No forecast: the readings jumped %(at)s. A broken thermocouple reads cold in a hot kiln."),
    "rising": _("No forecast: it reads hotter again. Somebody has heated it, or the instrument is wrong."),
    "too_fast": _(
        "No forecast: it fell faster than this kiln is known to. A lid may be open, or the thermocouple is failing "
        "and reads cold in a hot kiln."
    ),
    "near_the_room": _(
        "No forecast: that temperature is too near to the room's. Nobody can tell when it gets there."
    ),
    "no_clock": _("No forecast: the log says how long, not when. Give it the moment at which it began."),
}
SAYS = {
    "not_above": _("not above %(celsius)s"),
    "cracks_above": _("above %(celsius)s ware may crack"),
    "inch_at": _("a gap of an inch at %(celsius)s"),
}
WHO = {
    "workshop": _("members of a workshop"),
    "potter": _("a potter"),
    "kiln_maker": _("a maker of kilns"),
    "other_kiln_maker": _("another maker of kilns, in a manual"),
    "supplier": _("a supplier"),
}
COOLING_CAUTIONS = [
    _("Heat: bricks, shelves and pots burn long after the glow has gone; have gloves and eye protection on."),
    _("Fumes: let the air of the room change before you lean over a kiln, and longer after lustre or salt."),
    _("Thermal shock: cold air on hot ware cracks it, and crazing may follow days later."),
]


def day_and_clock(moment: datetime, now: datetime | None = None) -> str:
    """'07:40 tomorrow', in the studio's time zone."""
    local, today = timezone.localtime(moment), timezone.localdate(now)
    clock = date_format(local, "H:i")
    days = (local.date() - today).days
    words = {-1: _now("yesterday"), 0: _now("today"), 1: _now("tomorrow")}
    return f"{clock} {words[days]}" if days in words else f"{clock}, {date_format(local, 'j F')}"


def cooling_words(found: CoolingNow) -> str:
    """'expected at 50 °C about 07:40 tomorrow (07:05–08:30)', or why nobody can tell. NOT_LEAVE belongs beside it."""
    to = units.temperature(found.to_c)
    if found.trouble:
        at = (
            _now("at %(at)s") % {"at": day_and_clock(found.trouble_at)}
            if found.trouble_at
            else _now("a while ago")
        )
        return str(TROUBLES[found.trouble.code]) % {"to": to, "at": at}
    if not found.middle_at or not found.low_at or not found.high_at:
        return ""
    said = _now("expected at %(to)s about %(middle)s (%(low)s–%(high)s)")
    same = all(_same_day(end, found.middle_at) for end in (found.low_at, found.high_at))
    clock = _clock if same else day_and_clock
    ends = {"low": clock(_down(found.low_at)), "high": clock(_up(found.high_at))}
    return said % {"to": to, "middle": day_and_clock(_near(found.middle_at)), **ends}


def _same_day(one: datetime, other: datetime) -> bool:
    return timezone.localdate(one) == timezone.localdate(other)


def _clock(moment: datetime) -> str:
    return date_format(timezone.localtime(moment), "H:i")


# Nobody knows it to the minute: to five of them, the ends outwards.
def _down(moment: datetime) -> datetime:
    return moment.replace(minute=moment.minute - moment.minute % 5, second=0, microsecond=0)


def _up(moment: datetime) -> datetime:
    return _down(moment + timedelta(minutes=5) - timedelta(microseconds=1))


def _near(moment: datetime) -> datetime:
    return _down(moment + timedelta(minutes=2, seconds=30))


def opening_words(figure: Published) -> str:
    """'not above 120 °C: a maker of kilns'."""
    said = str(SAYS[figure.says]) % {"celsius": units.temperature(figure.celsius)}
    return f"{said}: {WHO[figure.who]}"
