"""Checks of the wall, for `manage.py doctor`: what is stored against what it is worked out from."""

from itertools import chain

from inventory.models import Glaze
from studio.doctor import files_exist
from tiles.actions.evidence import best_cone, cone_seen, readings_of
from tiles.calc.zones import LayerArea, combination_key, zones
from tiles.logs_anew import not_as_reckoned
from tiles.models import Combination, Firing, LoosePhoto, Photo, Tile


def cones_agree() -> list[str]:
    """The cone of every tile in every firing, and each tile's hottest, equal a recomputation."""
    wrong = []
    for firing in Firing.objects.prefetch_related("witness_cones", "tile_firings__tile"):
        readings = readings_of(firing)
        for row in firing.tile_firings.all():
            kept = (row.cone, row.cone_basis, row.cone_below)
            if kept != cone_seen(firing, row.position, readings):
                wrong.append(f"{row.tile} in {firing}: its cone is not the one that the evidence gives.")
    for tile in Tile.objects.all():
        if (tile.cone, tile.cone_basis) != best_cone(tile):
            wrong.append(f"{tile}: its cone is not that of its hottest glaze firing.")
    return wrong


def logs_agree() -> list[str]:
    """What is stored of every log equals a working out with the cones' present table."""
    return [
        f"{log.firing}: its cone by the log is not what its readings give. Run: python manage.py reckon_logs"
        for log, _due in not_as_reckoned()
    ]


def zones_agree() -> list[str]:
    """The zones of every tile equal a derivation from its layers, and each combination's key its glazes."""
    wrong = []
    for tile in Tile.objects.prefetch_related("layers__glaze", "zones__combination"):
        layers = sorted(tile.layers.all(), key=lambda layer: layer.position)
        due = zones([LayerArea(la.glaze_id.hex, la.area, la.glaze.kind == Glaze.Kind.WAX) for la in layers])
        kept = [(z.kind, z.combination.key, z.regions, z.layer_positions) for z in tile.zones.all()]
        if sorted(kept) != sorted(
            (z.kind, combination_key(z.glazes), list(z.regions), list(z.layer_positions)) for z in due
        ):
            wrong.append(f"{tile}: its zones are not those of its layers.")
    for combination in Combination.objects.prefetch_related("parts"):
        if combination.key != combination_key([part.glaze_id.hex for part in combination.parts.all()]):
            wrong.append(f"{combination}: its key does not name its glazes.")
    return wrong


def photo_files_exist() -> list[str]:
    """The original and served sizes of every photo, sorted to a tile or not, are in the storage."""
    of_tiles = ((str(photo.tile), photo) for photo in Photo.objects.select_related("tile"))
    # A sorted one has become the tile's photo: its files are asked for once.
    loose = LoosePhoto.objects.filter(photo=None).select_related("firing")
    return files_exist(chain(of_tiles, ((str(photo.firing), photo) for photo in loose)))
