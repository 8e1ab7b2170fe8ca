"""The words for what a kiln really does: the offsets of its shelves, and what to set."""

from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from inventory.calc.cones import celsius_at_60
from inventory.sentences import cone_words
from studio import units
from tiles.calc.kiln_offset import ShelfOffset
from tiles.calc.programme import Between, Programme
from tiles.models import Kiln

CAUTIONS = {
    "lead_or_cadmium": _(
        "Lead or cadmium is known or suspected in this kiln: what fumes can settle on other pots."
    ),
    "lustre": _("Lustre has been fired in this kiln: its fumes can settle on other pots."),
    "salt": _("Salt or soda has been fired in this kiln: its walls can glaze bare clay."),
}
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


def caution_words(kiln: Kiln) -> list[str]:
    """What has been fired in a kiln that others should know of."""
    return [str(sentence) for field, sentence in CAUTIONS.items() if getattr(kiln, field)]


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
        return _now("from %(low)s to %(high)s") % ends
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
        return _refusal_words(found)
    if found.shift_c is None or found.low_c is None or found.high_c is None:
        return ""
    given = {"asked": cone_words(found.asked), "position": found.position}
    if found.at is None:  # cooler than the coolest cone
        given["at"] = units.temperature((celsius_at_60(found.asked) or 0) + found.shift_c)
    elif round(found.shift_c) == 0:
        given["at"] = cone_words(found.asked)
    else:
        given["at"] = between_words(found.at)
    if round(found.shift_c) == 0 and not found.low_c < 0 < found.high_c:
        said = _now(
            "To see %(asked)s on the shelf “%(position)s”, set it as the chart says; up to %(most)s may be right."
        )
        return said % {**given, "most": side_words(max(found.low_c, found.high_c, key=abs))}
    if found.low_c < 0 < found.high_c:
        said = _now(
            "To see %(asked)s on the shelf “%(position)s”, set about %(at)s; "
            "anything from %(low)s to %(high)s than the chart says may be right."
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


def _refusal_words(found: Programme) -> str:
    words = {"limit": cone_words(found.limit.cone), "whose": found.limit.whose} if found.limit else {}
    said = str(ADVICE[found.code]) % words if words else str(ADVICE[found.code])
    if found.sees and found.limit and found.asked <= found.limit.cone:
        at_most = _now("With %(limit)s set and no more, the shelf “%(position)s” would see about %(sees)s.")
        said += " " + at_most % {
            **words,
            "position": found.position,
            "sees": between_words(found.sees),
        }
    return said


def hotter_words(found: Programme) -> list[str]:
    said = _now("The shelf “%(position)s” would then see about %(cone)s, more than the load is meant for.")
    return [said % {"position": place, "cone": between_words(cone)} for place, cone in found.hotter]
