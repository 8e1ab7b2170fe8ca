"""The same on many tiles: layers, a firing, a board."""

import uuid
from collections.abc import Sequence
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from inventory.models import Place
from studio.actions import record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import require
from tiles.actions.layers import add_layer
from tiles.actions.loading import load_tile
from tiles.models import Firing, Layer, Tile

MOST_TILES = 60
COPIED = (
    "glaze",
    "fill",
    "method",
    "tool",
    "coats",
    "dip_seconds",
    "thickness_mm",
    "area",
    "ground",
    "wiped_back",
)


def _few_enough(tiles: Sequence[Tile]) -> None:
    if not 1 <= len(tiles) <= MOST_TILES:
        raise Refused({"tiles": _("Choose from 1 to %(most)s tiles at a time.") % {"most": MOST_TILES}})
    if len({t.pk for t in tiles}) != len(tiles):
        raise Refused({"tiles": _("A tile is named twice.")})


def _named(tile: Tile, refused: Refused) -> Refused:
    """The same sentences, with the tile that they are about."""
    return Refused(
        {field: [f"{tile}: {s}" for s in sentences] for field, sentences in refused.problems.items()}
    )


@transaction.atomic
def glaze_many(*, by: Person, tiles: Sequence[Tile], layers: Sequence[dict[str, Any]]) -> list[Tile]:
    """The same layers, from the clay outwards, on each of the tiles: all of them or none."""
    _few_enough(tiles)
    if not layers:
        raise Refused({"layers": _("Say at least one layer.")})
    # One order of locking for everybody, whatever order the tiles were named in.
    for tile in sorted(tiles, key=lambda t: t.pk.hex):
        for fields in layers:
            try:
                add_layer(by=by, tile=tile, **fields)
            except Refused as refused:
                raise _named(tile, refused) from refused
    return list(tiles)


def layers_of(source: Tile) -> list[dict[str, Any]]:
    """The layers of a tile as `add_layer` takes them. An ended fill is left out: it is not in its bucket any more."""
    rows = []
    for layer in source.layers.select_related("glaze", "fill").order_by("position"):
        fields = {name: getattr(layer, name) for name in COPIED}
        if layer.fill is not None and layer.fill.ended_at:
            fields["fill"] = None
        rows.append(fields)
    return rows


@transaction.atomic
def repeat_tile(
    *, by: Person, source: Tile, tile: Tile, changed: dict[int, dict[str, Any]] | None = None
) -> Tile:
    """The layers of `source` on `tile`, with what `changed` says of single layers (by position)."""
    if tile.pk == source.pk:
        raise Refused({"tile": _("Choose another tile than the one that is repeated.")})
    layers = layers_of(source)
    if not layers:
        raise Refused({"tile": _("There is no layer on %(tile)s to repeat.") % {"tile": source}})
    for position, fields in (changed or {}).items():
        if not 1 <= position <= len(layers):
            raise Refused({"tile": _("There is no layer %(position)s.") % {"position": position}})
        layers[position - 1].update(fields)
    glaze_many(by=by, tiles=[tile], layers=layers)
    return tile


@transaction.atomic
def load_many(
    *, by: Person, firing: Firing, tiles: Sequence[Tile], position: str = "", override_reason: str = ""
) -> None:
    """All of them into one firing, or none."""
    _few_enough(tiles)
    for tile in sorted(tiles, key=lambda t: t.pk.hex):
        try:
            load_tile(by=by, firing=firing, tile=tile, position=position, override_reason=override_reason)
        except Refused as refused:
            raise _named(tile, refused) from refused


@transaction.atomic
def hang(*, by: Person, tiles: Sequence[Tile], place: Place | None) -> None:
    """Hang tiles on a board or hook, or take them off every place. Whoever stands before the board may say so."""
    require(by, "tile.hang")
    _few_enough(tiles)
    if place is not None and place.archived_at:
        raise Refused({"place": _("This place was put away. Choose another.")})
    batch = uuid.uuid4()
    for tile in sorted(tiles, key=lambda t: t.pk.hex):
        touch(tile)
        before = Tile.objects.select_related("place").get(pk=tile.pk).place
        Tile.objects.filter(pk=tile.pk).update(place=place)
        record_change(
            by=by, verb="hung", obj=tile, before={"place": before}, after={"place": place}, batch=batch
        )


def last_glazed(person: Person) -> Tile | None:
    """The tile on which this person put a layer last: the one to repeat."""
    layer = Layer.objects.filter(by=person).select_related("tile").order_by("-created_at").first()
    return layer.tile if layer else None
