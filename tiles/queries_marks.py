"""Reads of the marks: what one step set aside, and what a tile was set aside for."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from inventory.models import Flag
from tiles.models import FlagMark, Tile


@dataclass(frozen=True)
class Marking:
    """One step: who marked how many tiles when, and how many of them still are."""

    batch: UUID
    by: Any
    at: Any
    count: int
    left: int


def markings_of(flag: Flag) -> list[Marking]:
    """The steps of a flag, the newest first, in one query."""
    found: dict[UUID, list[FlagMark]] = {}
    for mark in FlagMark.objects.filter(flag=flag.pk).select_related("by").order_by("-created_at"):
        found.setdefault(mark.batch, []).append(mark)
    return [
        Marking(batch, rows[0].by, rows[0].created_at, len(rows), sum(r.undone_at is None for r in rows))
        for batch, rows in found.items()
    ]


def marks_of(tile: Tile) -> list[FlagMark]:
    """Why a tile is set aside, in one query."""
    marks = tile.flag_marks.filter(undone_at=None)
    return list(marks.select_related("flag__fill__glaze", "flag__fill__bucket"))


def marks_seen(flag: Flag, person: Any) -> Any:
    """The marks of a flag on the tiles that the person may see, also those that were taken back."""
    seen = Tile.objects.visible_to(person)
    return FlagMark.objects.filter(flag=flag, tile__in=seen).select_related("tile", "by")
