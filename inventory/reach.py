"""What a flag touches: spells of fills, its own and those that it reached through transfers.

Of a flag that stands in the database they are read from the flags that it carried; of one that is only thought of
(before it is raised) they are worked out from the transfers.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from inventory.actions.flags import open_of_a_kind
from inventory.actions.spread import LIFTED, reached
from inventory.models import Fill, Flag


@dataclass(frozen=True, kw_only=True)
class Spell:
    """A fill that is touched from `since` (None: always) to `until` (None: to the end).

    `flag` is the flag that says so, None before it is raised; `source` the fill that it was poured out of, None for
    the first.
    """

    fill: Fill
    since: datetime | None
    until: datetime | None
    flag: Flag | None = None
    source: Fill | None = None

    def holds_at(self, moment: datetime | None) -> bool:
        """Both ends count, and an unknown moment is touched: the rule of `FlagQuerySet.touching`."""
        if moment is None:
            return True
        return (self.since is None or self.since <= moment) and (self.until is None or moment <= self.until)


def spells(flag: Flag) -> list[Spell]:
    """The flagged fill first, then every fill that the flag reached, in the order in which it came there.

    Of a flag that was lifted: what it had touched.
    """
    if not flag._state.adding:
        return spells_of([flag])[flag.pk]
    found = sorted(reached(flag).items(), key=lambda item: item[1][0])
    return [
        Spell(fill=flag.fill, since=flag.since, until=None),
        *(
            Spell(fill=entry.fill, since=at, until=None, source=entry.source_fill)
            for _fill, (at, entry) in found
        ),
    ]


def spells_since(flag: Flag, since: datetime | None) -> list[Spell]:
    """The spells as they would be if it had been wrong `since` that moment; None: as the flag itself says."""
    found = spells(flag)
    if since is None:
        return found
    if flag.since is None or since >= flag.since:
        return [replace(spell, since=max(spell.since or since, since)) for spell in found]
    earlier = Flag(pk=flag.pk, fill=flag.fill, kind=flag.kind, since=since, put_right_at=flag.put_right_at)
    ends = {spell.fill.pk: spell.until for spell in found}
    return [replace(spell, until=ends.get(spell.fill.pk)) for spell in spells(earlier)]


def spells_of(flags: Iterable[Flag]) -> dict[Any, list[Spell]]:
    """The spells of many flags, in one query; they bring their fills along."""
    found = {
        flag.pk: [Spell(fill=flag.fill, since=flag.since, until=flag.put_right_at, flag=flag)]
        for flag in flags
    }
    carried: Any = Flag.objects.filter(origin__in=found).select_related(
        "origin", "fill__bucket", "fill__glaze", "through__source_fill__bucket"
    )
    for child in carried.order_by("since", "created_at"):
        if child.outcome not in LIFTED or child.origin.outcome in LIFTED:
            found[child.origin_id].append(
                Spell(
                    fill=child.fill,
                    since=child.since,
                    until=child.put_right_at,
                    flag=child,
                    source=child.through.source_fill if child.through else None,
                )
            )
    return found


def as_it_would_be(fill: Fill, kind: str, since: datetime | None) -> Flag:
    """The flag that raising one would make or widen, not stored; its fields decide what it touches."""
    open_one = open_of_a_kind(fill, kind)
    if open_one is not None and (open_one.since is None or (since and open_one.since < since)):
        since = open_one.since
    thought_of = Flag(fill=fill, kind=kind, since=since)
    if open_one is not None:
        thought_of.pk = open_one.pk  # so that buckets which were put right since are left out
    return thought_of
