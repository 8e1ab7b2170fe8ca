"""A large demo wall, for whoever wants to see how the service bears thousands of tiles: copies, without pictures."""

from collections.abc import Iterator
from typing import Any

from django.db import models

from studio.demo import DemoHouse
from tiles.models import Layer, Outcome, OutcomeFault, Tile, TileFiring, TileZone

AT_ONCE = 500


def fill_wall(house: DemoHouse, wanted: int) -> None:
    """Copies of the demo's fired tiles, with their layers, firings and looks, until `wanted` tiles hang there.

    They are written straight into the tables, without history: this is mass, not a life.
    """
    looked_at = Tile.objects.filter(state=Tile.State.RECORDED).order_by("number")
    sources = list(looked_at.prefetch_related("layers", "zones", "tile_firings", "outcomes__faults"))
    missing = wanted - Tile.objects.count()
    for start in range(0, missing, AT_ONCE):
        made: dict[type[models.Model], list[Any]] = {}
        for i in range(start, min(start + AT_ONCE, missing)):
            for copy in _copies(sources[i % len(sources)], f"X{i + 1}"):
                made.setdefault(type(copy), []).append(copy)
        for model in (Tile, Layer, TileZone, TileFiring, Outcome, OutcomeFault):
            model._base_manager.bulk_create(made.get(model, []))


def _copies(source: Tile, number: str) -> Iterator[models.Model]:
    tile = _copy(source, number=number, run_id=None)
    yield tile
    for part in (*source.layers.all(), *source.zones.all(), *source.tile_firings.all()):
        yield _copy(part, tile_id=tile.pk)
    for outcome in source.outcomes.all():
        look = _copy(outcome, tile_id=tile.pk)
        yield look
        for fault in outcome.faults.all():
            yield _copy(fault, outcome_id=look.pk)


def _copy(row: Any, **other: Any) -> Any:
    """The same record under a key of its own."""
    kept = {f.attname: getattr(row, f.attname) for f in row._meta.concrete_fields if not f.primary_key}
    return type(row)(**{**kept, **other})
