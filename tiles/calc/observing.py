"""Where an observation begins: the limits between 'thick' and 'not thick', 'over' and 'as meant'.

Each answers True, False, or None between the two and where nothing is known. The limits are common practice unless a
source is named; none of them was measured in this studio.
"""

from collections.abc import Iterable
from datetime import datetime, timedelta

from inventory.calc.cones import Cone

THICK_MM, NOT_THICK_MM = 1.5, 1.0
THIN_MM, NOT_THIN_MM = 0.3, 0.5
MOST_COATS = {"brush": 4, "dip": 2, "pour": 2, "spray": 4}
LONG_DIP_S = 8
DAY = timedelta(days=1)
ONE_CONE = 2  # half steps of a Cone's rank
# A body of 3 % or more is called semivitreous or porous; vitreous ware takes up next to nothing (scope of ASTM C424).
POROUS_PERCENT, TIGHT_PERCENT = 3, 1
FAST_C_PER_H, SLOW_C_PER_H = 150, 60  # the ends between which the cones' charts are read
HOLD_MINUTES, LONG_HOLD_MINUTES = 5, 45
FAST_COOLING, SLOW_COOLING = 250, 50  # °C/h; 50 and less is advised around 573 °C (Fortuna 2000)
MUCH_PERCENT = 3  # copper above about 3 % leached even from a balanced glaze (Katz, quoted 2016)
AT_ONCE, LATER = timedelta(days=2), timedelta(days=7)


def above(value: float | None, yes: float, no: float) -> bool | None:
    """True from `yes` on, False up to `no`, None between them or where `value` is not known; `yes` may be the lower.

    >>> above(2, 1.5, 1), above(1.2, 1.5, 1), above(0.2, 0.3, 0.5), above(None, 1, 0)
    (True, None, True, None)
    """
    if value is None:
        return None
    if yes >= no:
        return True if value >= yes else False if value <= no else None
    return True if value <= yes else False if value >= no else None


def any_of(answers: Iterable[bool | None]) -> bool | None:
    """True if one is, False if each is False, else not known (also of none).

    >>> any_of([None, True]), any_of([False, False]), any_of([False, None]), any_of([])
    (True, False, None, None)
    """
    known = list(answers)
    if True in known:
        return True
    return False if known and None not in known else None


def lies_thick(thickness_mm: float | None, method: str, coats: int, dip_s: float | None) -> bool | None:
    """By its measure; without one, only so many coats or so long a dip that it must be thick tell anything.

    >>> lies_thick(1.8, "dip", 1, None), lies_thick(None, "brush", 5, None), lies_thick(None, "dip", 1, None)
    (True, True, None)
    """
    if thickness_mm is not None:
        return above(thickness_mm, THICK_MM, NOT_THICK_MM)
    many = coats > MOST_COATS.get(method, coats)
    return True if many or (dip_s or 0) >= LONG_DIP_S else None


def lies_thin(thickness_mm: float | None, method: str, coats: int) -> bool | None:
    """By its measure; a single brushed coat is thin (common practice: three even ones).

    >>> lies_thin(0.2, "dip", 1), lies_thin(None, "brush", 1), lies_thin(None, "dip", 1)
    (True, True, None)
    """
    if thickness_mm is not None:
        return above(thickness_mm, THIN_MM, NOT_THIN_MM)
    return True if method == "brush" and coats == 1 else None


def hotter_than(saw: Cone | None, meant: Cone | None) -> bool | None:
    """A whole cone or more above what was meant.

    >>> hotter_than(Cone.parse("7"), Cone.parse("6")), hotter_than(Cone.parse("6"), Cone.parse("6"))
    (True, False)
    """
    return None if saw is None or meant is None else saw.rank - meant.rank >= ONE_CONE


def cooler_than(saw: Cone | None, meant: Cone | None) -> bool | None:
    """A whole cone or more below what was meant.

    >>> cooler_than(Cone.parse("05"), Cone.parse("04")), cooler_than(None, Cone.parse("04"))
    (True, None)
    """
    return hotter_than(meant, saw)


def outside(cone: Cone | None, low: Cone | None, high: Cone | None) -> tuple[bool | None, bool | None]:
    """Whether a cone lies (below, above) a range; None where cone or that end is not known.

    >>> outside(Cone.parse("8"), Cone.parse("5"), Cone.parse("6"))
    (False, True)
    """
    below = None if cone is None or low is None else cone < low
    return below, None if cone is None or high is None else cone > high


def came_late(first_seen: datetime, out: datetime | None, seen_without: bool) -> bool | None:
    """An earlier look that did not find it tells; without one, only a first look within two days says it was there.

    >>> day = datetime(2026, 3, 1)
    >>> came_late(day, day, False), came_late(day + LATER, day, True), came_late(day + LATER, day, False)
    (False, True, None)
    """
    if seen_without:
        return out is None or first_seen - out >= LATER or None
    return False if out is not None and first_seen - out <= AT_ONCE else None
