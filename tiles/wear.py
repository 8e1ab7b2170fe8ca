"""How many firings a kiln's elements and thermocouple have seen since they were put in."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.utils import timezone

from tiles.models import Firing, Kiln, PartChange

Part = PartChange.Part
LAST = {Part.ELEMENTS: "elements_last", Part.THERMOCOUPLE: "thermocouple_last"}


@dataclass(frozen=True, slots=True)
class Wear:
    """One part of one kiln. Without `change` the firings are all that are written down; `last` None: no reminder."""

    kiln: Kiln
    part: Part
    firings: int
    last: int | None
    change: PartChange | None

    @property
    def is_due(self) -> bool:
        return self.last is not None and self.firings >= self.last


def wear_of(kilns: Iterable[Kiln]) -> list[Wear]:
    """Both parts of each kiln, in two queries however many kilns there are."""
    kilns = list(kilns)
    rows = Firing.objects.filter(kiln__in=kilns, state__in=Firing.BEGUN).order_by()
    begun: dict[Any, list[Any]] = {}
    for key, started_at in rows.values_list("kiln", "started_at"):
        begun.setdefault(key, []).append(timezone.localdate(started_at) if started_at else None)
    changes: dict[tuple[Any, str], PartChange] = {}
    for change in PartChange.objects.filter(kiln__in=kilns, taken_back_at=None):  # newest first
        changes.setdefault((change.kiln_id, change.part), change)
    found = []
    for kiln in kilns:
        for part in Part:
            last_change = changes.get((kiln.pk, part))
            days = begun.get(kiln.pk, [])
            if last_change:
                seen = sum(day is not None and day >= last_change.changed_on for day in days)
                seen += last_change.firings_before
            else:
                seen = len(days)
            found.append(Wear(kiln, part, seen, getattr(kiln, LAST[part]), last_change))
    return found
