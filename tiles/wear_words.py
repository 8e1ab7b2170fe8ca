"""The words about what a firing took, what it cost, and how worn a kiln's parts are."""

from collections.abc import Callable
from math import ceil

from django.utils.formats import date_format, number_format
from django.utils.translation import gettext as _now
from django.utils.translation import ngettext

from studio.models import Studio
from tiles.energy_used import Used
from tiles.kiln_sentences import firings_words
from tiles.models import PartChange
from tiles.wear import Wear


def kwh_words(used: Used) -> str:
    """'about 36 kWh (29 to 43)', 'at most 72 kWh', '41.5 kWh by the meter'."""
    found = used.energy
    if found.basis == "meter":
        return _now("%(kwh)s kWh by the meter") % {"kwh": number_format(round(found.high, 1), 1)}
    if found.kwh is None or found.low is None:
        return _now("at most %(kwh)s kWh") % {"kwh": number_format(ceil(found.high))}
    said = _now("about %(kwh)s kWh (%(low)s to %(high)s)")
    places = 1 if found.high < 10 else 0
    figures = {"kwh": found.kwh, "low": found.low, "high": found.high}
    return said % {name: number_format(round(kwh, places), places) for name, kwh in figures.items()}


def cost_words(used: Used, share: int = 1) -> str:
    """The price, shared evenly by `share` things; '' where no price is known."""
    if used.cost is None or share < 1:
        return ""
    middle, low, high = (None if end is None else end / share for end in used.cost)
    if middle is None:
        return _now("at most %(high)s") % {"high": _money(_about(high or 0, ceil), used.currency)}
    if low == high:
        return _money(number_format(round(middle, 2), 2), used.currency)
    said = {
        "middle": _money(_about(middle), used.currency),
        "low": _about(low or 0),
        "high": _about(high or 0),
    }
    return _now("about %(middle)s (%(low)s to %(high)s)") % said


def _about(amount: float, whole: Callable[[float], int] = round) -> str:
    """An estimate to a whole unit, a small one to a tenth: what it costs is known no better than what it took."""
    if amount >= 10:
        return number_format(whole(amount))
    return number_format(round(amount, 1 if amount >= 1 else 2), 2)


def _money(amount: str, currency: str) -> str:
    return f"{amount}\u00a0{currency}".strip()


def wear_words(wear: Wear) -> str:
    """'62 firings since 3 May 2026', '20 firings written down here; no change is noted'."""
    if wear.change is None:
        said = _now("%(firings)s written down here; no change is noted")
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
    each = _now("%(about)s %(kwh)s kWh each") % {"about": about, "kwh": number_format(round(whole / n, 1), 1)}
    cost = cost_words(used, n)
    return f"{said}: {each}" + (f", {cost}" if cost else "")
