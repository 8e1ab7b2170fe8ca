"""The wall as a table for a spreadsheet."""

from collections.abc import Iterable, Iterator
from typing import Any

from django.utils.translation import gettext as _

from inventory.walk import Walk
from studio.exports import csv_lines
from tiles.cards import faults_seen, happened_to
from tiles.drawing_words import layer_words
from tiles.models import Layer, Tile
from tiles.sentences import BASIS_WORDS

COLUMNS = (
    "number",
    "cone",
    "cone basis",
    "body",
    "layers",
    "how it went on",
    "surface",
    "faults",
    "verdict",
    "place",
    "made on",
    "state",
    "standing",
    "set aside",
    "labels",
    "maker",
    "address",
)


def table_lines(tiles: Iterable[Tile], *, root: str) -> Iterator[str]:
    """The lines of the table, the heading first; `root` goes before each tile's address."""
    walk = Walk.now()
    return csv_lines(COLUMNS, tiles, lambda tile: _cells(tile, walk, root))


def _cells(tile: Any, walk: Walk, root: str) -> list[Any]:
    looks = list(tile.outcomes.all())
    return [
        tile.number,
        # As text: a spreadsheet would make 6 of 06.
        _("cone %(cone)s") % {"cone": tile.cone.code} if tile.cone else "",
        _basis(tile),
        tile.body,
        "; ".join(_layer(layer) for layer in sorted(tile.layers.all(), key=lambda la: la.position)),
        "; ".join(_happened(tile)),
        next((look.get_surface_display() for look in looks if look.surface), ""),
        "; ".join(faults_seen(looks)) if looks else "",
        next((look.get_verdict_display() for look in looks if look.verdict), ""),
        walk.words(tile.place_id) if tile.place_id else "",
        tile.made_on.isoformat() if tile.made_on else "",
        tile.get_state_display(),
        _("touched by a flagged bucket") if tile.is_spoiled else _("no flag touches it"),
        _("for a flag") if tile.is_marked else "",
        _labels(tile),
        tile.maker,
        f"{root}{tile.get_absolute_url()}",
    ]


def _basis(tile: Tile) -> str:
    if tile.cone_basis == "witness_short":
        return _("not proved: no witness cone was down")
    return str(BASIS_WORDS[tile.cone_basis]) if tile.cone_basis else ""


def _layer(layer: Layer) -> str:
    how = layer_words(layer.glaze.kind, layer.coats, layer.method, layer.area, layer.wiped_back)
    return f"{layer.glaze.name} ({how})"


def _happened(tile: Tile) -> Iterator[str]:
    """'2 onto what was damp, uneven' of each layer of which something was noted."""
    for layer in sorted(tile.layers.all(), key=lambda la: la.position):
        if words := happened_to(layer):
            yield f"{layer.position} {words}"


def _labels(tile: Any) -> str:
    if tile.is_kept_from_food:
        return _("a layer is kept away from food")
    if tile.is_labelled:
        return _("every layer's label says “food safe” or “dinnerware safe”")
    return _("a layer's label is not known") if tile.layers.all() else ""
