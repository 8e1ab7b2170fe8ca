"""Tiles side by side: what their records say differently, and what they say alike."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from inventory.sentences import cone_words
from tiles.cards import cone_line, faults_seen, happened_to
from tiles.drawing_words import layer_words
from tiles.models import Layer, Outcome, Tile

FEWEST, MOST = 2, 6


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that is known of each tile, in the order of the tiles."""

    name: str
    said: tuple[str, ...]

    @property
    def differs(self) -> bool:
        return len(set(self.said)) > 1


def facts(tiles: Sequence[Tile]) -> tuple[list[Fact], list[Fact]]:
    """(what differs, what is the same) of tiles read for the wall with their firings. What nobody knows is left out."""
    columns = [_record(tile) for tile in tiles]
    names = [_layer_name(n) for n in range(1, _most_layers(tiles) + 1)]
    unknown = _("not known")
    rows = []
    for name in [*names, *(name for name in columns[0] if name not in names)]:
        said = tuple(column.get(name, "") for column in columns)
        if any(said):
            absent = _("no such layer") if name in names else unknown
            rows.append(Fact(name, tuple(one or absent for one in said)))
    return [row for row in rows if row.differs], [row for row in rows if not row.differs]


def _most_layers(tiles: Sequence[Tile]) -> int:
    return max((len(tile.layers.all()) for tile in tiles), default=0)


def _layer_name(number: int) -> str:
    return _("layer %(number)s") % {"number": number}


def _record(tile: Tile) -> dict[str, str]:
    """Everything that can be compared, by its name; empty where nobody knows."""
    layers = sorted(tile.layers.all(), key=lambda layer: layer.position)
    looks = list(tile.outcomes.all())
    rows: list[Any] = [row for row in tile.tile_firings.all() if row.firing.has_fired and row.cone]
    hottest: Any = max(rows, key=lambda row: row.cone, default=None)
    moved = _last(looks, "movement_mm")
    return {
        **{_layer_name(n): _layer(layer) for n, layer in enumerate(layers, start=1)},
        _("out of"): "; ".join(_bucket(layer) for layer in layers),
        _("cone"): cone_line(tile),
        _("firing"): _firing(hottest),
        _("stood"): hottest.position if hottest else "",
        _("clay body"): str(tile.body or ""),
        _("surface"): _word(looks, "surface"),
        _("opacity"): _word(looks, "opacity"),
        _("colour"): str(_last(looks, "colour") or ""),
        _("moved down"): "" if moved is None else _("%(mm)s mm") % {"mm": f"{moved.normalize():f}"},
        _("faults"): (", ".join(faults_seen(looks)) or _("none seen")) if looks else "",
        _("damage"): str(_last(looks, "damage") or ""),
        _("verdict"): _word(looks, "verdict"),
    }


def _last(looks: list[Outcome], name: str) -> Any:
    """From the newest look that says it."""
    return next((value for look in looks if (value := getattr(look, name)) not in ("", None)), None)


def _word(looks: list[Outcome], name: str) -> str:
    return next((str(getattr(look, f"get_{name}_display")()) for look in looks if getattr(look, name)), "")


def _layer(layer: Layer) -> str:
    how = layer_words(layer.glaze.kind, layer.coats, layer.method, layer.area, layer.wiped_back)
    return ", ".join(filter(None, (f"{layer.glaze.name}: {how}", happened_to(layer))))


def _bucket(layer: Layer) -> str:
    if layer.fill is None:
        return _("bucket not noted")
    code = layer.fill.bucket.code
    return _("%(code)s at SG %(sg)s") % {"code": code, "sg": layer.sg_then} if layer.sg_then else code


def _firing(row: Any) -> str:
    """Kiln, atmosphere and the firing's own cone: a tile's cone is that of its place in it."""
    if row is None:
        return ""
    words = {
        "firing": row.firing,
        "kiln": row.firing.kiln,
        "atmosphere": row.firing.get_atmosphere_display(),
        "target": cone_words(row.firing.target_cone),
    }
    return _("%(firing)s, %(kiln)s, %(atmosphere)s, meant for %(target)s") % words
