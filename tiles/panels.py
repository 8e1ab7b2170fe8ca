"""What the wall hangs on the shelf's pages: the next coat on a bucket, what a flag touches, where a glaze was tried."""

from typing import Any

from django.db.models import Count, Exists, Max, Min, OuterRef, Q
from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from inventory.actions.spread import LIFTED
from inventory.models import Fill, Flag, Glaze, Opacity, Place, Surface
from inventory.reach import Spell
from studio.pages import PersonRequest
from studio.roles import may
from tiles.actions import in_hand
from tiles.actions.sets import count_in_hand
from tiles.cards import card
from tiles.cone_drawings import bent_cone
from tiles.drawings import StackLayer, tile_face
from tiles.models import CombinationPart, Layer, Outcome, Tile
from tiles.queries_marks import markings_of
from tiles.touching import combinations_of, firings_of, still_to_mark, tiles_of, touched_layers

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
    found = {"held": held, "log_url": page, "start_url": start, "set_count": count_in_hand(request.user)}
    return {**found, "set_url": f"{reverse('tiles:log-set')}?{scanned}"}


def hung_here(request: HttpRequest, places: list[Place]) -> dict[str, Any] | None:
    """How many tiles each place of a page holds itself, in one query; private ones of others are not counted."""
    if not may(request.user, "studio.see"):
        return None
    rows = Tile.objects.visible_to(request.user).filter(place__in=places).order_by().values_list("place")
    return {"tile_counts": dict(rows.annotate(n=Count("pk")))}


def made_from(request: HttpRequest, fill: Fill) -> dict[str, Any] | None:
    """The newest tiles glazed out of a fill."""
    if not may(request.user, "studio.see"):
        return None
    layers = Layer.objects.filter(tile=OuterRef("pk"), fill=fill)
    tiles = Tile.objects.visible_to(request.user).for_the_wall().filter(Exists(layers))
    return {"cards": [card(tile) for tile in tiles.order_by("-created_at")[:NEWEST]]}


def touched_by(request: HttpRequest, flag: Flag) -> dict[str, Any] | None:
    """Every tile, combination and firing that a flag touches, also through what was poured on.

    Of private tiles only how many.
    The flag may be one that is only thought of, or one that was lifted: then what it had touched.
    """
    if not may(request.user, "studio.see"):
        return None
    return touched_in(request.user, flag, touched_layers(flag))


def touched_in(person: Any, flag: Flag, layers: Any, *, whole: bool = False) -> dict[str, Any]:
    """The same of `layers` that it touches, also since another moment; `whole`: every tile, not the newest alone."""
    tiles = tiles_of(layers)
    seen = tiles.visible_to(person)
    shown = seen.order_by("-created_at").with_mark()
    here = layers.filter(tile__in=seen)
    return {
        "tiles": shown if whole else shown[:LISTED],
        "count": seen.count(),
        "hidden": tiles.count() - seen.count(),
        "still": _still_touched(seen) if flag.outcome in LIFTED else [],
        "combinations": combinations_of(here),
        "firings": firings_of(here),
    }


def marks_for(request: HttpRequest, flag: Flag) -> dict[str, Any] | None:
    """What was set aside because of a flag, and how many of its tiles are not."""
    if not may(request.user, "studio.see"):
        return None
    return marked_in(request.user, flag, touched_layers(flag)) | {"flag": flag}


def marked_in(person: Any, flag: Flag, layers: Any) -> dict[str, Any]:
    is_lifted = flag.outcome in LIFTED
    seen = tiles_of(layers).visible_to(person)
    return {
        "is_lifted": is_lifted,
        "not_marked": 0 if is_lifted else still_to_mark(flag, seen).count(),
        "markings": markings_of(flag),
    }


def _still_touched(tiles: Any) -> list[Tile]:
    """Those that another flag spoils or keeps from food."""
    return list(tiles.with_standing().filter(Q(is_spoiled=True) | Q(is_kept_from_food=True)))


def touched_counts(request: HttpRequest, reach: dict[Any, list[Spell]]) -> dict[str, Any] | None:
    """How many tiles each flag of a page touches, in one query. `reach` is the spells by flag."""
    if not may(request.user, "studio.see"):
        return None
    fills = {spell.fill.pk for found in reach.values() for spell in found}
    coats: dict[Any, list[tuple[Any, Any]]] = {}
    for fill, at, tile in Layer.objects.filter(fill__in=fills).values_list("fill", "applied_at", "tile"):
        coats.setdefault(fill, []).append((at, tile))
    touched = {
        flag: {tile for spell in found for at, tile in coats.get(spell.fill.pk, []) if spell.holds_at(at)}
        for flag, found in reach.items()
    }
    return {"tile_counts": {flag: len(tiles) for flag, tiles in touched.items()}}


def tried_with(request: HttpRequest, glaze: Glaze) -> dict[str, Any] | None:
    """Where a glaze was tried."""
    if not may(request.user, "studio.see"):
        return None
    tiles = Tile.objects.visible_to(request.user).for_the_wall().with_glaze(glaze)
    return _looked_at_alone(request, glaze) | {
        "cards": [card(tile) for tile in tiles.order_by("-created_at")[:NEWEST]],
        "count": tiles.count(),
        "wall_url": f"{reverse('tiles:wall')}?{urlencode({'glaze': str(glaze.pk)})}",
    }


def _looked_at_alone(request: HttpRequest, glaze: Glaze) -> dict[str, Any]:
    """What was seen where nothing but this glaze lies on the clay: how often each surface, and how far it moved."""
    parts = CombinationPart.objects.filter(combination=OuterRef("combination"))
    looks = Outcome.objects.filter(
        Exists(parts), ~Exists(parts.exclude(glaze=glaze)), tile__in=Tile.objects.visible_to(request.user)
    ).order_by()
    surfaces = looks.exclude(surface="").values_list("surface").annotate(n=Count("pk")).order_by("-n")
    opacities = looks.exclude(opacity="").values_list("opacity").annotate(n=Count("pk")).order_by("-n")
    moved = looks.aggregate(least=Min("movement_mm"), most=Max("movement_mm"), n=Count("movement_mm"))
    return {
        "surfaces": [(Surface(surface).label, n) for surface, n in surfaces],
        "opacities": [(Opacity(opacity).label, n) for opacity, n in opacities],
        "moved": moved,
    }


def for_everybody(request: HttpRequest, nothing: None) -> dict[str, Any]:
    """A part of the help that needs nothing but its words."""
    return {}


def shapes(request: HttpRequest, nothing: None) -> dict[str, Any]:
    """A tile, its stack and cones, drawn of glazes that stand in no bucket."""
    layers = (
        StackLayer(_("first glaze"), coats=2, method="dip", colour="#8fa39b"),
        StackLayer(_("second glaze"), coats=1, method="brush", area="upper", colour="#4d5f72"),
    )
    face = tile_face("white", layers)
    return {"face": face, "layers": layers, "body": "white", "standing": bent_cone(0), "down": bent_cone(90)}
