"""When one coat followed another: what a finding before the kiln and a cause after it go by."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import pairwise

# A coat is touched again once its wet shine has gone, which takes some minutes (common practice).
SHINE_GOES, SURELY_GONE = timedelta(minutes=5), timedelta(minutes=10)
# A coat over one that has long dried may lift (common practice).
LONG_BETWEEN_COATS = timedelta(hours=24)
LOGGED_TOGETHER = timedelta(minutes=1)


def is_timed(moment: datetime | None) -> bool:
    """Whether somebody said when: a whole minute. Seconds mean the moment of logging, which says nothing of drying.

    >>> is_timed(datetime(2026, 1, 1, 9, 5)), is_timed(datetime(2026, 1, 1, 9, 5, 12)), is_timed(None)
    (True, False, False)
    """
    return moment is not None and not (moment.second or moment.microsecond)


def gaps(moments: Sequence[datetime | None]) -> list[timedelta]:
    """The times between coats; those within a minute were logged together and tell nothing.

    >>> gaps([datetime(2026, 1, 1, 9), datetime(2026, 1, 1, 9), datetime(2026, 1, 1, 10), None])
    [datetime.timedelta(seconds=3600)]
    """
    known = sorted(moment for moment in moments if moment is not None)
    between = [later - earlier for earlier, later in pairwise(known)]
    return [gap for gap in between if gap >= LOGGED_TOGETHER]


def came_quick(moments: Sequence[datetime | None]) -> tuple[bool | None, timedelta | None]:
    """Whether a coat came before the wet shine of the one before had gone, and the shortest time; of said moments only.

    >>> nine = datetime(2026, 1, 1, 9)
    >>> came_quick([nine, nine + timedelta(minutes=4)])[0], came_quick([nine, nine + timedelta(minutes=10)])[0]
    (True, False)
    >>> came_quick([nine, nine + timedelta(minutes=4, seconds=3)])
    (None, None)
    """
    between = gaps([moment for moment in moments if is_timed(moment)])
    if not between:
        return None, None
    shortest = min(between)
    return (True if shortest < SHINE_GOES else False if shortest >= SURELY_GONE else None), shortest
