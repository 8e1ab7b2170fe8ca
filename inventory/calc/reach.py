"""How far a flag reaches: what was wrong in one bucket goes with what was poured out of it.

A fill is spoiled from a moment on (or always), until it was put right. A transfer out of a spoiled fill spoils the fill
that it goes into from that moment, whatever happens to the first bucket later; and so on.
"""

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime


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
    lasts, or the last spell's first when it was put right. The flagged fill itself is not among the answers.

    >>> day = lambda n: datetime(2026, 3, n)
    >>> poured = [Transfer("A", "B", day(1)), Transfer("A", "C", day(3)), Transfer("C", "D", day(4))]
    >>> sorted(reach("A", day(2), None, poured))
    ['C', 'D']
    """
    mended = put_right_later or {}
    spells: dict[Hashable, datetime] = {}
    for step in sorted(transfers, key=lambda t: t.at):
        if step.source == fill:
            spoiled = (since is None or since <= step.at) and (put_right is None or step.at <= put_right)
        else:
            spoiled = _spoiled_at(step.source, step.at, spells, mended)
        if not spoiled or step.target == fill:
            continue
        if not _spoiled_at(step.target, step.at, spells, mended):
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
