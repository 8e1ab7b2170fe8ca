"""What used a flagged bucket since a day: layers, and through them tiles, combinations and firings."""

from datetime import datetime
from typing import Any

from django.db.models import Exists, OuterRef

from inventory.models import Flag
from inventory.reach import spells_since
from tiles.models import Combination, Firing, FlagMark, Layer, Tile, TileZone


def touched_layers(flag: Flag, since: datetime | None = None) -> Any:
    """The layers that the flag touches, or would if it had been so since another moment."""
    return Layer.objects.touched_by(spells_since(flag, since))


def tiles_of(layers: Any) -> Any:
    return Tile.objects.filter(Exists(layers.filter(tile=OuterRef("pk"))))


def combinations_of(layers: Any) -> list[Combination]:
    """The combinations of those zones in which one of `layers` lies."""
    touched: dict[Any, set[int]] = {}
    for tile, position in layers.values_list("tile", "position"):
        touched.setdefault(tile, set()).add(position - 1)  # zones count layers from 0
    zones = TileZone.objects.filter(tile__in=touched)
    found = {zone.combination_id for zone in zones if touched[zone.tile_id] & set(zone.layer_positions)}
    return list(Combination.objects.filter(pk__in=found).prefetch_related("parts__glaze"))


def firings_of(layers: Any) -> list[Firing]:
    """The firings that melted one of `layers`, or that its tile waits in; the newest first."""
    melted = Firing.objects.filter(Exists(layers.filter(precedes=OuterRef("pk"))))
    return list(melted.select_related("kiln").order_by("-number"))


def still_to_mark(flag: Flag, tiles: Any) -> Any:
    """Those of `tiles` that are not marked for this flag."""
    marks = FlagMark.objects.filter(tile=OuterRef("pk"), flag=flag.pk, undone_at=None)
    return tiles.filter(~Exists(marks))
