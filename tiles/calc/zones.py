"""Which glazes lie over which, and where: the zones of a tile, worked out from the areas of its layers.

A tile is cut into six regions that no layer divides. Upper and lower overlap in the middle, as when a test
tile is dipped from both ends (common practice); 'whole' leaves the foot bare.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

REGIONS = ("inside", "lip", "top", "middle", "bottom", "foot")
REGIONS_OF_AREA: dict[str, tuple[str, ...]] = {
    "whole": ("inside", "lip", "top", "middle", "bottom"),
    "inside": ("inside",),
    "lip": ("lip",),
    "outside": ("top", "middle", "bottom"),
    "upper": ("lip", "top", "middle"),
    "lower": ("middle", "bottom"),
    "band": ("middle",),
    "foot": ("foot",),
}
AREAS = tuple(REGIONS_OF_AREA)
SEPARATOR = ">"


@dataclass(frozen=True, slots=True)
class LayerArea:
    """One layer: what it is, where it lies (one of AREAS), and whether it is only wax."""

    glaze_key: str
    area: str
    is_wax: bool = False


@dataclass(frozen=True, slots=True)
class Zone:
    """Regions that carry the same layers.

    kind: 'whole' (the only zone of the tile, of however many layers), 'alone' (one layer), 'overlap'.
    glazes: keys from the clay outwards; two layers of one glaze are two entries, because a second layer is
    not a thicker first one. layer_positions: their places in the layers given, from 0.
    """

    kind: str
    glazes: tuple[str, ...]
    layer_positions: tuple[int, ...]
    regions: tuple[str, ...]


def zones(layers: Sequence[LayerArea]) -> tuple[Zone, ...]:
    """Sort the regions by the layers that lie on them, in the order of REGIONS; bare regions are no zone.

    Layers come in order from the clay outwards. Wax is left out, and is not taken to hold off the layers
    over it: it is mostly painted in a pattern. Raises ValueError for an unknown area.

    >>> for zone in zones([LayerArea("A", "upper"), LayerArea("B", "lower")]):
    ...     print(zone.kind, zone.glazes, zone.regions)
    alone ('A',) ('lip', 'top')
    overlap ('A', 'B') ('middle',)
    alone ('B',) ('bottom',)
    """
    for layer in layers:
        if layer.area not in REGIONS_OF_AREA:
            raise ValueError("unknown_area", layer.area)
    found: dict[tuple[int, ...], list[str]] = {}
    for region in REGIONS:
        positions = tuple(
            position
            for position, layer in enumerate(layers)
            if not layer.is_wax and region in REGIONS_OF_AREA[layer.area]
        )
        if positions:
            found.setdefault(positions, []).append(region)
    return tuple(
        Zone(
            kind="whole" if len(found) == 1 else "alone" if len(positions) == 1 else "overlap",
            glazes=tuple(layers[position].glaze_key for position in positions),
            layer_positions=positions,
            regions=tuple(regions),
        )
        for positions, regions in found.items()
    )


def combination_key(glazes: Iterable[str]) -> str:
    """One text for an ordered set of glazes, from the clay outwards; ValueError if a key holds '>'.

    >>> combination_key(("A", "B", "B"))
    'A>B>B'
    """
    keys = tuple(glazes)
    if any(SEPARATOR in key for key in keys):
        raise ValueError("separator_in_key", keys)
    return SEPARATOR.join(keys)
