"""The words for what a kiln really does: offsets, what to programme, cooling, wear and energy."""

from datetime import datetime, timedelta

from django.utils import timezone
from django.utils.formats import date_format, number_format
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from inventory.sentences import cone_words
from studio import units
from studio.models import Studio
from tiles.calc.kiln_offset import ShelfOffset
from tiles.calc.opening import Published
from tiles.calc.programme import Between, Programme
from tiles.cooling_now import CoolingNow
from tiles.energy_used import Used
from tiles.models import PartChange
from tiles.wear import Wear

NOT_LEAVE = _("a forecast from the readings, not leave to open; the manual of the kiln comes first")
PARTS = (
    (1 / 5, _("a fifth")),
    (1 / 4, _("a quarter")),
    (1 / 3, _("a third")),
    (2 / 5, _("two fifths")),
    (1 / 2, _("half")),
    (3 / 5, _("three fifths")),
    (2 / 3, _("two thirds")),
    (3 / 4, _("three quarters")),
    (4 / 5, _("four fifths")),
)
ADVICE = {
    "no_history": _(
        "Nothing is known of this shelf yet. Set witness cones on it, read them, and give the firing its log; "
        "after that something can be said."
    ),
    "unknown_cone": _(
        "No end point is published for that cone or the next. Choose a whole cone from 022 to 13."
    ),
    "cannot_say": _(
        "Cannot say: what is known of this shelf spans more than about a cone. Read witness cones on it in another "
        "firing or two, best one that is partly bent."
    ),
    "kiln_unknown": _(
        "Nothing is said as long as the highest cone of this kiln is not written down. It stands on its plate "
        "or in its manual."
    ),
    "kiln_limit": _(
        "The instrument would have to be set past %(limit)s, the highest of this kiln. Choose a cooler cone, a "
        "hotter shelf or another kiln."
    ),
    "load_limit": _(
        "The instrument would have to be set past %(limit)s, and %(whose)s in the load is not meant for more. "
        "Choose a hotter shelf, or fire that in another load."
    ),
    "more_than_a_cone": _(
        "It would take more than one cone above what you want. So much is not set by a figure: have elements and "
        "thermocouple looked at first."
    ),
}
TROUBLES = {
    "passed": _("The instrument reads %(to)s or less by now. That is a reading, not leave to open."),
    "too_few": _("No forecast yet: it needs half an hour of cooling at least."),
    "stopped": _("No forecast: the readings stopped %(at)s. Look at the instrument."),
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


def part_of(fraction: float) -> str:
    """The nearest simple part in words; '' within a tenth of none."""
    if fraction < 0.1:
        return ""
    return str(min(PARTS, key=lambda part: abs(part[0] - fraction))[1])


def between_words(at: Between) -> str:
    """'cone 6 (1222 °C) and two fifths of the way to 7'."""
    if at.next and at.fraction > 0.9:
        return _now("just under %(cone)s") % {"cone": cone_words(at.next)}
    part = part_of(at.fraction)
    if not part or at.next is None:
        return cone_words(at.cone)
    said = _now("%(cone)s and %(part)s of the way to %(next)s")
    return said % {"cone": cone_words(at.cone), "part": part, "next": at.next.label}


def side_words(celsius: float) -> str:
    """'8 °C hotter', '3 °C cooler'."""
    way = _now("%(degrees)s hotter") if celsius >= 0 else _now("%(degrees)s cooler")
    return way % {"degrees": units.difference(celsius)}


def offset_words(shelf: ShelfOffset) -> str:
    """What a shelf is against the instrument; a side is named only where the whole interval lies on it."""
    if not shelf.cones:
        return _now("not known yet")
    ends = {"low": side_words(shelf.low_c), "high": side_words(shelf.high_c)}
    if shelf.low_c < 0 < shelf.high_c:
        return _now("as the instrument says, from %(low)s to %(high)s") % ends
    return _now("about %(middle)s (%(low)s to %(high)s)") % {
        "middle": side_words(shelf.median_c),
        **{name: units.difference(value) for name, value in _nearer_first(shelf.low_c, shelf.high_c).items()},
    }


def _nearer_first(one: float, other: float) -> dict[str, float]:
    low, high = sorted((one, other), key=abs)
    return {"low": low, "high": high}


def firings_words(n: int) -> str:
    return ngettext("%(n)s firing", "%(n)s firings", n) % {"n": n}


def advice_words(found: Programme) -> str:
    """The sentence of the advice, or why there is none."""
    if found.code:
        words = {}
        if found.limit:
            words = {"limit": cone_words(found.limit.cone), "whose": found.limit.whose}
        return str(ADVICE[found.code]) % words if words else str(ADVICE[found.code])
    if not found.at or found.shift_c is None or found.low_c is None or found.high_c is None:
        return ""
    given = {"at": between_words(found.at), "asked": cone_words(found.asked), "position": found.position}
    if found.low_c < 0 < found.high_c:
        said = _now(
            "Set %(at)s: the shelf “%(position)s” is as the instrument says, as far as it is known "
            "(between %(low)s and %(high)s to be set)."
        )
        return said % {**given, "low": side_words(found.low_c), "high": side_words(found.high_c)}
    ends = _nearer_first(found.low_c, found.high_c)
    said = _now(
        "To see %(asked)s on the shelf “%(position)s”, set %(at)s: %(shift)s (%(low)s to %(high)s) than the chart says."
    )
    return said % {
        **given,
        "shift": side_words(found.shift_c),
        "low": units.difference(ends["low"]),
        "high": units.difference(ends["high"]),
    }


def hotter_words(found: Programme) -> list[str]:
    said = _now("The shelf “%(position)s” would then see about %(cone)s, more than the load is meant for.")
    return [said % {"position": place, "cone": between_words(cone)} for place, cone in found.hotter]


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


def kwh_words(used: Used) -> str:
    """'about 36 kWh (29 to 43)', 'at most 72 kWh', '41.5 kWh by the meter'."""
    found = used.energy
    if found.basis == "meter":
        return _now("%(kwh)s kWh by the meter") % {"kwh": number_format(found.high, 1)}
    if found.kwh is None or found.low is None:
        return _now("at most %(kwh)s kWh") % {"kwh": number_format(found.high, 0)}
    said = _now("about %(kwh)s kWh (%(low)s to %(high)s)")
    return said % {name: number_format(getattr(found, name), 0) for name in ("kwh", "low", "high")}


def cost_words(used: Used, share: int = 1) -> str:
    """The price, shared evenly by `share` things; '' where no price is known."""
    if used.cost is None or share < 1:
        return ""
    middle, low, high = (None if end is None else _money(end / share, used.currency) for end in used.cost)
    if middle is None:
        return _now("at most %(high)s") % {"high": high}
    if low == high:
        return middle
    return _now("about %(middle)s (%(low)s to %(high)s)") % {"middle": middle, "low": low, "high": high}


def _money(amount: float, currency: str) -> str:
    return f"{number_format(amount, 2)}\u00a0{currency}".strip()


def wear_words(wear: Wear) -> str:
    """'62 firings since 3 May 2026', 'at least 20 firings: when they were put in is not known'."""
    if wear.change is None:
        said = _now("%(firings)s written down here; when it was put in is not noted")
        return said % {"firings": firings_words(wear.firings)}
    day = date_format(wear.change.changed_on, "j F Y")
    return _now("%(firings)s since %(day)s") % {"firings": firings_words(wear.firings), "day": day}


def part_words(part: str) -> str:
    return str(PartChange.Part(part).label)


def share_words(used: Used, studio: Studio) -> str:
    """What one thing in the kiln took; how it is divided is said with it."""
    if not used.things:
        return ""
    n = used.things
    said = ngettext(
        "%(n)s thing in it, all counted alike whatever its size",
        "%(n)s things in it, all counted alike whatever their size",
        n,
    ) % {"n": n}
    found = used.energy
    whole = found.high if found.kwh is None else found.kwh
    about = _now("at most") if found.kwh is None else _now("about")
    each = _now("%(about)s %(kwh)s kWh each") % {"about": about, "kwh": number_format(whole / n, 1)}
    cost = cost_words(used, n)
    return f"{said}: {each}" + (f", {cost}" if cost else "")
