"""How a demo tile looks, read from its own record: the layers on it and the looks at it."""

import zlib
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from multiprocessing import get_context

from inventory.models import Glaze
from studio.demo import rows
from tiles.drawn import Coat, TileLook, draw
from tiles.models import Layer, Outcome, Tile

# Half a millimetre of fired glaze for a dip, a third of that for each coat by brush.
DIP_MM, BRUSH_MM = 0.5, 0.17
WORKERS = 2


@cache
def _looks(name: str, key: str) -> dict[str, dict[str, str]]:
    return {row[key]: row for row in rows(name)}


def look_of(tile: Tile, glaze_keys: dict[Glaze, str], body_key: str) -> TileLook:
    """What a tile's record says that it looks like."""
    body = _looks("body_looks", "body")[body_key]
    outcomes = list(tile.outcomes.prefetch_related("faults").order_by("created_at"))
    moved = max((float(o.movement_mm) for o in outcomes if o.movement_mm is not None), default=0.0)
    layers = [
        layer
        for layer in tile.layers.select_related("glaze").order_by("position")
        if glaze_keys[layer.glaze] in _looks("glaze_looks", "glaze")  # wax burns away
    ]
    last = len(layers) - 1
    return TileLook(
        seed=zlib.crc32(tile.number.encode()),
        body_colour=body["colour"],
        grit=float(body["grit"]),
        texture=body["texture"],
        coats=tuple(
            _coat(layer, glaze_keys[layer.glaze], moved if i == last else 0.3 * moved)
            for i, layer in enumerate(layers)
        ),
        surface=_surface(outcomes, layers),
        faults=tuple(dict.fromkeys((f.kind, f.where) for o in outcomes for f in o.faults.all())),
    )


def _coat(layer: Layer, key: str, moved: float) -> Coat:
    seen = _looks("glaze_looks", "glaze")[key]
    thickness = float(layer.thickness_mm or 0) or (
        BRUSH_MM * layer.coats if layer.method == Layer.Method.BRUSH else DIP_MM * layer.coats
    )
    thin = layer.glaze.kind in (Glaze.Kind.UNDERGLAZE, Glaze.Kind.SLIP, Glaze.Kind.WASH)
    return Coat(
        colour=seen["colour"],
        thin_colour=seen["thin_colour"],
        opacity=layer.glaze.opacity or "opaque",
        area=layer.area,
        thickness_mm=min(thickness, 0.25) if thin else min(thickness, 1.2),
        movement_mm=0.0 if thin else moved,
        speckle=float(seen["speckle"]),
        mottle=float(seen["mottle"]),
    )


def _surface(outcomes: list[Outcome], layers: list[Layer]) -> str:
    said = [o.surface for o in outcomes if o.surface] + [
        x.glaze.surface for x in layers[::-1] if x.glaze.surface
    ]
    return said[0] if said else "dry"


def drawings(looks: Iterable[TileLook]) -> Iterator[bytes]:
    """The pictures in the same order, drawn on both cores of a small machine."""
    with ProcessPoolExecutor(WORKERS, mp_context=get_context("spawn")) as pool:
        yield from pool.map(draw, looks, chunksize=4)
