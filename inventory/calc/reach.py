"""How far a flag reaches: what was wrong in one bucket goes with what was poured out of it.

A fill is spoiled from a moment on (or always), until it was put right. A transfer out of a spoiled fill spoils the fill
that it goes into from that moment, whatever happens to the first bucket later; and so on.
"""

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby


@dataclass(frozen=True, slots=True)
class Transfer:
    """Something was poured out of `source` into `target` at `at`."""

    source: Hashable
    target: Hashable
    at: datetime


def reach(
    fill: Hashable,
    since: datetime | None,
    put_right: datetime | None,
    transfers: Iterable[Transfer],
    put_right_later: Mapping[Hashable, list[datetime]] | None = None,
) -> dict[Hashable, datetime]:
    """Fills that a flag on `fill` reaches through transfers, each with the moment from which it is spoiled.

    `since` None: the whole fill was so. `put_right`: transfers after that moment carry nothing on.
    `put_right_later`: moments at which a reached fill was itself put right; a transfer out of it is harmless from then
    on, until something spoiled is poured into it again. The moment given is the first of the spoiled spell that still
    lasts, or the last spell's first when it was put right. The flagged fill itself is among the answers only when
    something spoiled came back into it after it was put right. Pours of one moment count in every order.

    >>> day = lambda n: datetime(2026, 3, n)
    >>> poured = [Transfer("A", "B", day(1)), Transfer("A", "C", day(3)), Transfer("C", "D", day(4))]
    >>> sorted(reach("A", day(2), None, poured))
    ['C', 'D']
    >>> sorted(reach("A", None, day(2), [*poured, Transfer("B", "A", day(5)), Transfer("A", "E", day(6))]))
    ['A', 'B', 'E']
    """
    mended = put_right_later or {}
    spells: dict[Hashable, datetime] = {}

    def spoiled(place: Hashable, moment: datetime) -> bool:
        began = since is None or since <= moment
        by_itself = place == fill and began and (put_right is None or moment <= put_right)
        return by_itself or _spoiled_at(place, moment, spells, mended)

    for _moment, poured in groupby(sorted(transfers, key=lambda t: t.at), key=lambda t: t.at):
        waiting = list(poured)
        while carrying := [step for step in waiting if spoiled(step.source, step.at)]:
            for step in carrying:
                waiting.remove(step)
                if not spoiled(step.target, step.at):
                    spells[step.target] = step.at
    return spells


def _spoiled_at(
    fill: Hashable,
    moment: datetime,
    spells: Mapping[Hashable, datetime],
    mended: Mapping[Hashable, list[datetime]],
) -> bool:
    began = spells.get(fill)
    return began is not None and not any(began <= m < moment for m in mended.get(fill, ()))
