"""The cells of a log file: numbers with point or comma, temperatures with their unit, times in many ways."""

import re
from collections.abc import Callable, Sequence
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from tiles.calc.log_thousands import is_grouped, ungrouped

Numbers = NDArray[np.float64]

NOTHING = {"", "-", "--", "---", "----", "nan", "n/a", "na", "null", "none", "?"}
OPEN = {
    "open",
    "err",
    "error",
    "fault",
    "fail",
    "oc",
    "o/c",
    "tc open",
    "burnout",
    "####",
    "*****",
    "overrange",
    "inf",
}

_NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?")
_WITH_UNIT = re.compile(r"([+-]?\d+(?:[.,]\d*)?)\s*(?:°|º|deg\.?)?\s*([CF])", re.IGNORECASE)
_CLOCK = re.compile(r"(\d{1,4}):([0-5]?\d)(?::([0-5]?\d)(?:[.,]\d+)?)?\s*([ap]\.?m\.?)?", re.IGNORECASE)
_ISO_DAY = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})")
_OTHER_DAY = re.compile(r"(\d{1,2})([-/.])(\d{1,2})[-/.](\d{4}|\d{2})")
_NAMED_DAY = re.compile(r"(\d{1,2})[-/. ]+([^\W\d_]{3})[^\W\d_]*[-/., ]+(\d{4}|\d{2})")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_MONTH = {name: n for n, name in enumerate(_MONTHS, 1)} | {"mär": 3, "mrz": 3, "mai": 5, "okt": 10, "dez": 12}
_MOMENT = re.compile(
    r"([\d/.\-]{6,10}|\d{1,2}[-/. ]+[^\W\d_]{3,9}[-/., ]+\d{2,4})(?:\s*T\s*|\s*,\s*|\s+)(\d{1,2}:\d{2}.*)",
    re.IGNORECASE,
)
_UNPARTED = re.compile(r"(\d{4})(\d\d)(\d\d)[T ](\d\d)(\d\d)(\d\d)?", re.IGNORECASE)
_ZONE = re.compile(r"\s*(Z|UTC|[+-]\d{2}:?\d{2})$", re.IGNORECASE)


def kind_of(cell: str) -> str:
    """What a cell looks like: nothing, open, number, degrees (with its unit), clock, day, moment or text.

    >>> [kind_of(cell) for cell in ("", "OPEN", "20,5", "68 °F", "0:00:30", "3/4/26", "2026-03-04T05:06:07Z", "RAMP")]
    ['nothing', 'open', 'number', 'degrees', 'clock', 'day', 'moment', 'text']
    """
    text = cell.strip()
    low = text.lower()
    if low in NOTHING:
        return "nothing"
    if low in OPEN:
        return "open"
    if _NUMBER.fullmatch(text) or is_grouped(text):
        return "number"
    if _WITH_UNIT.fullmatch(text):
        return "degrees"
    if _CLOCK.fullmatch(text):
        return "clock"
    if _ISO_DAY.fullmatch(text) or _OTHER_DAY.fullmatch(text) or _is_named_day(text):
        return "day"
    found = _MOMENT.fullmatch(text)
    if found and any(letter.isalpha() for letter in found[1]):
        return "moment" if _is_named_day(found[1]) else "text"
    return "moment" if found or _UNPARTED.fullmatch(text) else "text"


def _is_named_day(text: str) -> bool:
    """
    >>> _is_named_day("4-Mar-2026"), _is_named_day("4 xyz 2026")
    (True, False)
    """
    found = _NAMED_DAY.fullmatch(text)
    return bool(found and found[2].lower() in _MONTH)


def unit_of(cell: str) -> str:
    """The unit that is written with a temperature: c, f, or nothing."""
    found = _WITH_UNIT.fullmatch(cell.strip())
    return found[2].lower() if found else ""


def numbers(cells: Sequence[str], *, decimal_comma: bool = False) -> Numbers:
    """The cells as numbers, NaN where there is none. An instrument's word for an open circuit is +infinity.

    >>> numbers(["20.5", " 68F", "--", "OPEN", "x", "1,222.5"]).tolist()
    [20.5, 68.0, nan, inf, nan, 1222.5]
    """
    cells = ungrouped(cells)
    written = [cell.replace(",", ".") for cell in cells] if decimal_comma else cells
    try:
        return np.array(written, dtype=np.float64)  # the whole column at once, where every cell is a number
    except ValueError:
        return _each(written, _number)


def _number(cell: str) -> float:
    try:
        return float(cell)
    except ValueError:
        text = cell.strip()
        if text.lower() in OPEN:
            return float("inf")
        found = _WITH_UNIT.fullmatch(text)
        return float(found[1].replace(",", ".")) if found else float("nan")


def clocks(cells: Sequence[str]) -> Numbers:
    """h:mm, h:mm:ss or mm:ss, with am and pm, as seconds; the hours may run on past 24.

    Two parts are hours and minutes.

    >>> clocks(["1:02:03", "1:02 pm", "26:00", "x"]).tolist()
    [3723.0, 46920.0, 93600.0, nan]
    """
    return _each(cells, _clock)


def _clock(cell: str) -> float:
    found = _CLOCK.fullmatch(cell.strip())
    if not found:
        return float("nan")
    hours, half = int(found[1]), (found[4] or "").lower()[:1]
    if half:
        hours = hours % 12 + (12 if half == "p" else 0)
    return 3600.0 * hours + 60 * int(found[2]) + int(found[3] or 0)


def day_first(cells: Sequence[str]) -> bool:
    """Whether 3/4/26 is the third of April: as a number above 12 tells, else the way in which the file is shorter.

    >>> day_first(["12/31/2026"]), day_first(["31/12/2026"]), day_first(["3/4/26"])
    (False, True, True)
    >>> day_first(["3/4/26", "3/5/26"]), day_first(["3/4/26", "4/4/26"])
    (False, True)
    """
    found = [match for cell in cells if (match := _OTHER_DAY.match(cell.strip()))]
    if any(int(match[1]) > 12 for match in found):
        return True
    if any(int(match[3]) > 12 for match in found):
        return False
    # A firing over midnight lasts a day, not a month.
    spans = [[_day(match[0], first) for match in found] for first in (True, False)]
    return not found or bool(np.ptp(spans[0]) <= np.ptp(spans[1]))


def moments(cells: Sequence[str], *, days_first: bool = True) -> Numbers:
    """Date and clock as seconds since 1970, as if the clock were that of UTC unless a zone is written with it.

    >>> moments(["1970-01-02 00:00:05", "2.1.1970 0:01", "1970-01-01T02:00:00+02:00", "x"]).tolist()
    [86405.0, 86460.0, 0.0, nan]
    """
    try:
        if not any(_ZONE.search(cell) for cell in cells[:1]):
            return np.array([cell.strip() for cell in cells], dtype="datetime64[s]").astype(np.float64)
    except ValueError:
        pass
    return _each(cells, lambda cell: _moment(cell, days_first))


def has_zone(cell: str) -> bool:
    """Whether a moment says its own time zone."""
    return kind_of(cell) == "moment" and bool(_ZONE.search(cell.strip()))


def _moment(cell: str, days_first: bool) -> float:
    text = cell.strip()
    zone = _ZONE.search(text)
    text = text[: zone.start()] if zone else text
    if parts := _UNPARTED.fullmatch(text):
        year, month, of_month, hours, minutes, seconds = parts.groups("00")
        day, clock = _day(f"{year}-{month}-{of_month}", days_first), _clock(f"{hours}:{minutes}:{seconds}")
    elif found := _MOMENT.fullmatch(text):
        day, clock = _day(found[1], days_first), _clock(found[2])
    else:
        return float("nan")
    return day + clock - (_offset(zone[1]) if zone else 0)


def _day(text: str, days_first: bool) -> float:
    if iso := _ISO_DAY.fullmatch(text):
        year, month, day = map(int, iso.groups())
    elif other := _OTHER_DAY.fullmatch(text):
        first, second, year = int(other[1]), int(other[3]), int(other[4])
        day, month = (first, second) if days_first else (second, first)
        year += 2000 if year < 100 else 0
    elif _is_named_day(text) and (named := _NAMED_DAY.fullmatch(text)):
        day, month, year = int(named[1]), _MONTH[named[2].lower()], int(named[3])
        year += 2000 if year < 100 else 0
    else:
        return float("nan")
    try:
        return float((datetime(year, month, day) - datetime(1970, 1, 1)).days * 86400)
    except ValueError:
        return float("nan")


def _offset(zone: str) -> int:
    if zone.upper() in ("Z", "UTC"):
        return 0
    digits = zone.replace(":", "")
    seconds = 3600 * int(digits[1:3]) + 60 * int(digits[3:5])
    return -seconds if zone[0] == "-" else seconds


def _each(cells: Sequence[str], read: Callable[[str], float]) -> Numbers:
    return np.fromiter(map(read, cells), dtype=np.float64, count=len(cells))
