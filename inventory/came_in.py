"""What came into a bucket beside the lot that its fill names: other lots, and whatever was added."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from inventory.models import Fill, Glaze, StockEntry, Treatment

MORE = (StockEntry.Kind.TOPPED_UP, StockEntry.Kind.TRANSFER)


@dataclass(frozen=True, slots=True)
class CameIn:
    """`material` is what was added; empty where it was more of the glaze, of another lot or one that nobody noted."""

    at: datetime
    material: str = ""


def lots_of(fill: Fill) -> set[str]:
    """The lot and the version of the recipe, as a report would name them."""
    version = str(fill.recipe_version) if fill.recipe_version else ""
    return {lot for lot in (fill.lot.strip().casefold(), version) if lot}


def _is_another_batch(one: Fill, other: Fill) -> bool:
    """Batches are counted anew: of one number and recipe, but mixed on two days, they are two."""
    days = {one.made_on, other.made_on} - {None}
    return one.glaze.origin == Glaze.Origin.MIXED and len(days) > 1


def came_in(fills: Iterable[Fill]) -> dict[Any, list[CameIn]]:
    """By the fill's key, also what came along from the buckets out of which it was poured.

    Two queries, and two more for each pour of one and the same lot that lies behind another.
    """
    asked = {fill.pk: fill for fill in fills}
    found: dict[Any, list[CameIn]] = {}
    poured: dict[Any, list[tuple[Any, datetime]]] = {}
    behind = dict(asked)
    while behind:
        found |= {key: [] for key in behind}
        sources: dict[Any, Fill] = {}
        entries = StockEntry.objects.filter(fill__in=behind, kind__in=MORE).select_related(
            "source_fill__glaze"
        )
        for entry in entries.order_by("at"):
            source = entry.source_fill
            theirs = lots_of(source) if source else {entry.lot.strip().casefold()}
            own = behind[entry.fill_id]
            if not lots_of(own) & theirs or (source and _is_another_batch(own, source)):
                found[entry.fill_id].append(CameIn(entry.at))
            if source is not None:
                poured.setdefault(entry.fill_id, []).append((source.pk, entry.at))
                sources[source.pk] = source
        added = Treatment.objects.filter(fill__in=behind, kind=Treatment.Kind.ADDED).order_by("at")
        for treatment in added:
            found[treatment.fill_id].append(CameIn(treatment.at, treatment.material))
        behind = {key: source for key, source in sources.items() if key not in found}
    return {key: _all_of(key, None, found, poured, frozenset()) for key in asked}


def _all_of(
    key: Any,
    until: datetime | None,
    found: dict[Any, list[CameIn]],
    poured: dict[Any, list[tuple[Any, datetime]]],
    passed: frozenset[Any],
) -> list[CameIn]:
    """A fill's own and, from the moment of each pour, what its source held by then."""
    if key in passed:
        return []
    mine = [one for one in found[key] if until is None or one.at <= until]
    for source, at in poured.get(key, []):
        if until is None or at <= until:
            behind = _all_of(source, at, found, poured, passed | {key})
            mine += [CameIn(at, one.material) for one in behind]
    return list(dict.fromkeys(mine))
