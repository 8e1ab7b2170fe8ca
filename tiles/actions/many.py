"""The same on many tiles: layers, a firing, a board."""

import uuid
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from inventory.models import Place
from inventory.walk import Walk
from studio.actions import record_change, touch
from studio.errors import Refused
from studio.models import Person
from studio.roles import NotAllowed, require
from tiles.actions.acknowledgements import answer_layers
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
    "stirred_in",
)


def few_enough(tiles: Sequence[Tile]) -> None:
    """What one act may name: at least one tile, not too many, none twice."""
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
def each_of(tiles: Sequence[Tile], act: Callable[[Tile], Any]) -> None:
    """Do `act` to every tile or to none. What it refuses names the tile."""
    # One order of locking for everybody, whatever order the tiles were named in.
    for tile in sorted(tiles, key=lambda t: t.pk.hex):
        try:
            act(tile)
        except Refused as refused:
            raise _named(tile, refused) from refused
        except NotAllowed as refused:
            raise NotAllowed(f"{tile}: {refused}") from refused


@transaction.atomic
def glaze_many(
    *,
    by: Person,
    tiles: Sequence[Tile],
    layers: Sequence[dict[str, Any]],
    versions: Mapping[uuid.UUID, int] | None = None,
    reason: str = "",
) -> list[Tile]:
    """The same layers, from the clay outwards, on each of the tiles: all of them or none.

    `versions` are the ones that were read, by tile; `reason` answers what is to be said against the new layers.
    """
    few_enough(tiles)
    if not layers:
        raise Refused({"layers": _("Say at least one layer.")})

    def glaze(tile: Tile) -> None:
        touch(tile, (versions or {}).get(tile.pk))
        new = [add_layer(by=by, tile=tile, **fields).position for fields in layers]
        if reason.strip():
            answer_layers(by=by, tile=tile, positions=new, reason=reason)

    each_of(tiles, glaze)
    return list(tiles)


def layers_of(source: Tile) -> list[dict[str, Any]]:
    """The layers of a tile as `add_layer` takes them. An ended fill is left out: it is not in its bucket any more."""
    rows = []
    for layer in source.layers.select_related("glaze", "fill", "stirred_in").order_by("position"):
        fields = {name: getattr(layer, name) for name in COPIED}
        if layer.fill is not None and layer.fill.ended_at:
            fields["fill"] = None
        rows.append(fields)
    return rows


@transaction.atomic
def repeat_tile(
    *,
    by: Person,
    source: Tile,
    tile: Tile,
    changed: Mapping[int, dict[str, Any] | None] | None = None,
    version: int | None = None,
    reason: str = "",
) -> Tile:
    """The layers of `source` on `tile`, with what `changed` says of single layers by position; None leaves one out."""
    if tile.pk == source.pk:
        raise Refused({"tile": _("Choose another tile than the one that is repeated.")})
    layers = changed_layers(source, changed or {})
    versions = {tile.pk: version} if version is not None else {}
    glaze_many(by=by, tiles=[tile], layers=layers, versions=versions, reason=reason)
    return tile


def changed_layers(source: Tile, changed: Mapping[int, dict[str, Any] | None]) -> list[dict[str, Any]]:
    """The layers of `source` as `add_layer` takes them, with the changes made."""
    layers: list[dict[str, Any] | None] = [*layers_of(source)]
    if not layers:
        raise Refused({"tile": _("There is no layer on %(tile)s to repeat.") % {"tile": source}})
    for position, fields in changed.items():
        if not 1 <= position <= len(layers):
            raise Refused({"tile": _("There is no layer %(position)s.") % {"position": position}})
        before = layers[position - 1] or {}
        if fields and fields.get("glaze") and "fill" not in fields:
            before = {**before, "fill": None}  # another glaze is not in the same bucket
        if fields and fields.get("fill") and "glaze" not in fields:
            before = {**before, "glaze": fields["fill"].glaze}
        layers[position - 1] = None if fields is None else {**before, **fields}
    return [layer for layer in layers if layer is not None]


@transaction.atomic
def load_many(
    *, by: Person, firing: Firing, tiles: Sequence[Tile], position: str = "", override_reason: str = ""
) -> None:
    """All of them into one firing, or none."""
    few_enough(tiles)
    each_of(
        tiles,
        lambda tile: load_tile(
            by=by, firing=firing, tile=tile, position=position, override_reason=override_reason
        ),
    )


@transaction.atomic
def hang(*, by: Person, tiles: Sequence[Tile], place: Place | None) -> None:
    """Hang tiles on a board or hook, or take them off every place. Whoever stands before the board may say so."""
    require(by, "tile.hang")
    few_enough(tiles)
    if place is not None and place.archived_at:
        raise Refused({"place": _("This place was put away. Choose another.")})
    batch, walk = uuid.uuid4(), Walk.now()

    def put(tile: Tile) -> None:
        touch(tile)
        tile.refresh_from_db(fields=["place"])
        before = {"place": walk.words(tile.place_id) if tile.place_id else None}
        tile.place = place
        tile.save(update_fields=["place"])
        after = {"place": walk.words(place.pk) if place else None}
        record_change(by=by, verb="hung", obj=tile, before=before, after=after, batch=batch)

    each_of(tiles, put)


def last_glazed(person: Person, *, but: Tile | None = None) -> Tile | None:
    """The tile on which this person put a layer last: the one to repeat."""
    mine = Layer.objects.filter(by=person, tile__in=Tile.objects.visible_to(person))
    layer = mine.exclude(tile=but).select_related("tile").order_by("-created_at").first()
    return layer.tile if layer else None
