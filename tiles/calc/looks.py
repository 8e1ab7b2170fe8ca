"""When to look at a fired tile again: crazing may come weeks later."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

# Delayed crazing is real (glaze-fit literature); 1, 4 and 12 weeks is the studio's own choice, common practice.
WEEKS = (1, 4, 12)


@dataclass(frozen=True, slots=True)
class LookDue:
    """A look that is due: after how many weeks, and since which day."""

    weeks: int
    due_on: date


def look_due(out_of_kiln_on: date, looks: Iterable[date], today: date) -> LookDue | None:
    """The look that is due today, or None. One look made late serves for every earlier one.

    >>> look_due(date(2026, 1, 1), [date(2026, 1, 2)], date(2026, 1, 9))
    LookDue(weeks=1, due_on=datetime.date(2026, 1, 8))
    >>> look_due(date(2026, 1, 1), [date(2026, 1, 9)], date(2026, 1, 20)) is None
    True
    """
    last = max(looks, default=None)
    due = None
    for weeks in WEEKS:
        day = out_of_kiln_on + timedelta(weeks=weeks)
        if day <= today and (last is None or last < day):
            due = LookDue(weeks, day)
    return due
