"""The lid of a bucket, seen from above: geometry for `inventory/_lid.html`, in units of its viewBox."""

from dataclasses import dataclass
from decimal import Decimal
from math import cos, radians, sin

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from inventory.models import Level
from inventory.sentences import USE_WORDS

CENTRE, RADIUS = 50.0, 42.0
GAUGE_TOP, GAUGE_BOTTOM = 8.0, 92.0

# How full a bucket is drawn for what the eye says of it.
SHARES = {
    Level.FULL: 1.0,
    Level.THREE_QUARTERS: 0.75,
    Level.HALF: 0.5,
    Level.QUARTER: 0.25,
    Level.NEARLY_EMPTY: 0.08,
    Level.EMPTY: 0.0,
}


@dataclass(frozen=True)
class Box:
    """An upright rectangle."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True)
class LidDrawing:
    """Everything `_lid.html` draws. What is None is not drawn, and its words say that it was not measured."""

    code: str
    use: str
    word: str
    ring: str
    half: str
    bars: tuple[Box, ...]
    level: Box | None
    level_word: str
    needle_y: float | None
    window: Box | None
    sg_words: str
    sg_short: str
    wanted: str
    title: str
    desc: str


def lid(
    code: str,
    use: str,
    level: str | float | None = None,
    sg: Decimal | float | None = None,
    sg_low: Decimal | float | None = None,
    sg_high: Decimal | float | None = None,
) -> LidDrawing:
    """The lid of bucket `code`. `use` is use, ask or do_not_use; `level` a Level or a share 0..1.

    Raises KeyError for a use that is not one of the three: a lid must never be drawn on a guess.

    >>> lid("K7QM2P", "use", "half", 1.46, 1.44, 1.5).level.height
    42.0
    """
    word = str(USE_WORDS[use])
    share, level_word = _level(level)
    wanted = (float(sg_low), float(sg_high)) if sg_low is not None and sg_high is not None else None
    sg_words = _sg_words(sg, sg_low, sg_high)
    return LidDrawing(
        code=code,
        use=use,
        word=word,
        ring=_ring() if use == "use" else "",
        half=_half() if use == "ask" else "",
        bars=(Box(0, 22, 100, 11), Box(0, 67, 100, 11)) if use == "do_not_use" else (),
        level=None if share is None else _filled(share),
        level_word=level_word,
        needle_y=None if sg is None else needle_y(float(sg), wanted),
        window=_window(wanted),
        sg_words=sg_words,
        sg_short=_sg_short(sg, wanted),
        wanted=f"{_number(sg_low)}–{_number(sg_high)}" if wanted else "",
        title=_("Bucket %(code)s: %(word)s") % {"code": code, "word": word},
        desc=_("Level: %(level)s. Specific gravity: %(sg)s.") % {"level": level_word, "sg": sg_words},
    )


def needle_y(sg: float, wanted: tuple[float, float] | None) -> float:
    """Height of the needle: heavier is higher. The wanted window fills the middle third of the gauge.

    Without a window the gauge runs from 1.2 to 1.8. A reading beyond the gauge rests at its end.

    >>> needle_y(1.47, (1.44, 1.50)), needle_y(9, (1.44, 1.50))
    (50.0, 8.0)
    """
    low, high = wanted or (1.4, 1.6)
    span = max(high - low, 0.01)
    share = (sg - low + span) / (3 * span)
    return round(GAUGE_BOTTOM - min(max(share, 0.0), 1.0) * (GAUGE_BOTTOM - GAUGE_TOP), 2)


def _window(wanted: tuple[float, float] | None) -> Box | None:
    if wanted is None or wanted[0] > wanted[1]:
        return None
    top, bottom = needle_y(wanted[1], wanted), needle_y(wanted[0], wanted)
    return Box(134, top, 8, round(bottom - top, 2))


def _filled(share: float) -> Box:
    height = round(share * (GAUGE_BOTTOM - GAUGE_TOP), 2)
    return Box(108, GAUGE_BOTTOM - height, 12, height)


def _ring() -> str:
    """A circle whose gap, 70 degrees wide, looks to the upper right: the lid stands open."""
    start, end = _on_rim(-10), _on_rim(-80)
    return f"M{start} A{RADIUS:g} {RADIUS:g} 0 1 1 {end}"


def _half() -> str:
    """The lower half of the disc: the lid lies half across."""
    start, end = _on_rim(180), _on_rim(0)
    return f"M{start} A{RADIUS:g} {RADIUS:g} 0 0 0 {end} Z"


def _on_rim(degrees: float) -> str:
    x, y = CENTRE + RADIUS * cos(radians(degrees)), CENTRE + RADIUS * sin(radians(degrees))
    return f"{x:.2f} {y:.2f}"


def _level(level: str | float | None) -> tuple[float | None, str]:
    if level is None or level == "":
        return None, _("not measured")
    if isinstance(level, str):
        return SHARES[Level(level)], str(Level(level).label)
    share = min(max(float(level), 0.0), 1.0)
    return share, _("about %(percent)s %%") % {"percent": round(share * 100)}


def _sg_words(sg, low, high) -> str:
    """The reading with its window: what the drawing says to somebody who does not see it."""
    if low is None or high is None:
        return _sg_short(sg, None)
    short = _sg_short(sg, (float(low), float(high)))
    return _("%(sg)s (wanted: %(window)s)") % {"sg": short, "window": _between(low, high)}


def _sg_short(sg, wanted: tuple[float, float] | None) -> str:
    """The reading, and on which side of the window it lies; the window itself is drawn."""
    if sg is None:
        return _("not measured")
    if wanted and float(sg) < wanted[0]:
        return _("%(sg)s, too light") % {"sg": _number(sg)}
    if wanted and float(sg) > wanted[1]:
        return _("%(sg)s, too heavy") % {"sg": _number(sg)}
    return _number(sg)


def _between(low, high) -> str:
    return _("%(low)s to %(high)s") % {"low": _number(low), "high": _number(high)}


def _number(sg) -> str:
    """Two decimals, or three when the third was read."""
    if sg is None:
        return ""
    text = f"{sg:.3f}"
    return number_format(Decimal(text[:-1] if text.endswith("0") else text))
