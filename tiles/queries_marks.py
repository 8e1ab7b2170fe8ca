"""Reads of the marks: what a step set aside, what a tile was for, and how many of a combination or a firing."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from inventory.actions.spread import LIFTED
from inventory.models import Flag
from tiles.models import Combination, FlagMark, Tile, TileZone


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
    return list(standing_marks().filter(tile=tile))


@dataclass(frozen=True)
class SetAside:
    """Of the tiles of a combination or a firing, how many are set aside because of a flag."""

    flag: Flag
    tile_count: int

    @property
    def is_lifted(self) -> bool:
        return self.flag.outcome in LIFTED


def standing_marks() -> Any:
    """The marks that nobody took back, with what their words need."""
    marks = FlagMark.objects.filter(undone_at=None)
    return marks.select_related("flag__fill__glaze", "flag__fill__bucket")


def set_aside(marks: Iterable[FlagMark]) -> list[SetAside]:
    """By flag, the latest raised first."""
    tiles: dict[Flag, set[Any]] = {}
    for mark in marks:
        tiles.setdefault(mark.flag, set()).add(mark.tile_id)
    latest = sorted(tiles, key=lambda flag: flag.created_at, reverse=True)
    return [SetAside(flag, len(tiles[flag])) for flag in latest]


def set_aside_of(combination: Combination, person: Any) -> list[SetAside]:
    """Of the tiles with a combination that the person may see, where a bucket of one of its glazes was flagged."""
    tiles = TileZone.objects.filter(combination=combination, tile__in=Tile.objects.visible_to(person))
    glazes = combination.parts.values("glaze")
    return set_aside(standing_marks().filter(tile__in=tiles.values("tile"), flag__fill__glaze__in=glazes))


def marks_seen(flag: Flag, person: Any) -> Any:
    """The marks of a flag on the tiles that the person may see, also those that were taken back."""
    seen = Tile.objects.visible_to(person)
    return FlagMark.objects.filter(flag=flag, tile__in=seen).select_related("tile", "by")
