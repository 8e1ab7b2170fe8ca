"""What the wall hangs on the shelf's pages: the next coat on a bucket, what a flag touches, where a glaze was tried."""

from typing import Any

from django.db.models import Exists, OuterRef
from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import urlencode

from inventory.models import Fill, Flag, Glaze
from studio.pages import PersonRequest
from studio.roles import may
from tiles.actions import in_hand
from tiles.cards import card
from tiles.models import Combination, Layer, Tile, TileZone

NEWEST = 6
LISTED = 40


def next_coat(request: PersonRequest, fill: Fill) -> dict[str, Any] | None:
    """'Next coat on tile 312' when a tile is in hand, else a way to begin one."""
    if not may(request.user, "tile.log"):
        return None
    held = in_hand(request.user)
    scanned = urlencode({"fill": str(fill.pk)})
    start = f"{reverse('tiles:log-start')}?{scanned}"
    page = f"{reverse('tiles:log', args=[held.number])}?{scanned}" if held else start
    return {"held": held, "log_url": page, "start_url": start}


def made_from(request: HttpRequest, fill: Fill) -> dict[str, Any] | None:
    """The newest tiles glazed out of a fill."""
    if not may(request.user, "studio.see"):
        return None
    layers = Layer.objects.filter(tile=OuterRef("pk"), fill=fill)
    tiles = Tile.objects.visible_to(request.user).for_the_wall().filter(Exists(layers))
    return {"cards": [card(tile) for tile in tiles.order_by("-created_at")[:NEWEST]]}


def touched_by(request: HttpRequest, flag: Flag) -> dict[str, Any] | None:
    """Every tile and combination that a flag touches; of private tiles only how many."""
    if not may(request.user, "studio.see"):
        return None
    layers = Layer.objects.touched_by(flag)
    tiles = Tile.objects.filter(Exists(layers.filter(tile=OuterRef("pk"))))
    seen = tiles.visible_to(request.user)
    return {
        "tiles": seen.order_by("-created_at")[:LISTED],
        "count": seen.count(),
        "hidden": tiles.count() - seen.count(),
        "combinations": _combinations(layers.filter(tile__in=seen)),
    }


def _combinations(layers: Any) -> list[Combination]:
    """The combinations of those zones in which one of `layers` lies."""
    touched: dict[Any, set[int]] = {}
    for tile, position in layers.values_list("tile", "position"):
        touched.setdefault(tile, set()).add(position - 1)  # zones count layers from 0
    zones = TileZone.objects.filter(tile__in=touched)
    found = {zone.combination_id for zone in zones if touched[zone.tile_id] & set(zone.layer_positions)}
    return list(Combination.objects.filter(pk__in=found).prefetch_related("parts__glaze"))


def tried_with(request: HttpRequest, glaze: Glaze) -> dict[str, Any] | None:
    """Where a glaze was tried."""
    if not may(request.user, "studio.see"):
        return None
    tiles = Tile.objects.visible_to(request.user).for_the_wall().with_glaze(glaze)
    return {
        "cards": [card(tile) for tile in tiles.order_by("-created_at")[:NEWEST]],
        "count": tiles.count(),
        "wall_url": f"{reverse('tiles:wall')}?{urlencode({'glaze': str(glaze.pk)})}",
    }
