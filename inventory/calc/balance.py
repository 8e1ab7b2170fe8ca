"""How much is in a bucket: movements since the last measured level.

A level is looked at or weighed and therefore resets the count; a movement is what somebody says was put in or
taken out. Entries count in the order in which they happened, not in which they were written down; pages ask for no
seconds, so within one minute they count in the order in which they were written down.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Movement:
    """One stock entry. `volume_ml` is signed for a movement and the whole volume for a measured level (`measures`).

    None is an unknown amount: nothing can be counted on from there until the next known level.
    `order` breaks the tie of entries of one minute, by when they were written.
    """

    at: datetime
    order: tuple
    measures: bool
    volume_ml: Decimal | None


def running_ml(entries: Iterable[Movement]) -> Iterator[tuple[Movement, Decimal | None]]:
    """Each entry in the order of its moment with the volume after it, mL; None while that cannot be known.

    Source: bookkeeping; no physics. Valid for any entries of one fill.

    >>> from datetime import datetime
    >>> filled = Movement(datetime(2026, 3, 1), (1,), True, Decimal(8000))
    >>> taken = Movement(datetime(2026, 3, 2), (2,), False, Decimal(-500))
    >>> [volume for _entry, volume in running_ml([taken, filled])]
    [Decimal('8000'), Decimal('7500')]
    """
    total: Decimal | None = None
    for entry in sorted(entries, key=lambda e: (e.at.replace(second=0, microsecond=0), e.order)):
        if entry.measures:
            total = entry.volume_ml
        elif entry.volume_ml is None or total is None:
            total = None
        else:
            total += entry.volume_ml
        yield entry, total


def balance_ml(entries: Iterable[Movement]) -> Decimal | None:
    """The volume after all entries, mL; None while it cannot be known. It may be negative: more was taken than was in.

    Source: bookkeeping; no physics.

    >>> from datetime import datetime
    >>> day = lambda n: datetime(2026, 3, n)
    >>> balance_ml([Movement(day(1), (1,), True, Decimal(8000)), Movement(day(2), (2,), False, Decimal(-500))])
    Decimal('7500')
    >>> balance_ml([Movement(day(2), (2,), False, Decimal(-500))]) is None
    True
    """
    return next((volume for _entry, volume in reversed(list(running_ml(entries)))), None)
