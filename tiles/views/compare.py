"""Two to six tiles side by side."""

from dataclasses import dataclass
from typing import Any

from django.db.models import Exists, OuterRef, Q, QuerySet
from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from studio.pages import PersonRequest, needs
from tiles.cards import best_photo, card
from tiles.comparing import FEWEST, MOST, facts
from tiles.drawings import TileCard
from tiles.models import Layer, Tile, TileZone
from tiles.queries_hanging import HANGING

OFFERED = 12
LONGEST = 24  # letters of a number
ASKED = 60  # numbers that are looked at; more were not typed by hand


@dataclass(frozen=True, slots=True)
class Shown:
    """One tile as it is compared: its card, its photo, and the address of the comparison without it."""

    card: TileCard
    photo: Any
    without: str


@require_safe
@needs("studio.see")
def page(request: PersonRequest) -> HttpResponse:
    """`?t=312&t=318`; what is no tile, or a tile that this person may not see, is not there."""
    asked = _numbers(request)
    seen = Tile.objects.visible_to(request.user)
    found = {tile.number.upper(): tile for tile in _read(seen, asked[: MOST + ASKED])}
    tiles = [found[number.upper()] for number in asked if number.upper() in found]
    missing = [number for number in asked if number.upper() not in found]
    left_out, tiles = tiles[MOST:], tiles[:MOST]
    differs, same = facts(tiles) if len(tiles) >= FEWEST else ([], [])
    context = {
        "shown": [_shown(tile, tiles) for tile in tiles],
        "differs": differs,
        "same": same,
        "missing": missing,
        "left_out": [tile.number for tile in left_out],
        "most": MOST,
        "has_room": len(tiles) < MOST,
        "is_enough": len(tiles) >= FEWEST,
        "offered": [card(tile) for tile in _likely(seen, tiles)] if len(tiles) < FEWEST else [],
    }
    return render(request, "tiles/compare.html", context)


def _numbers(request: PersonRequest) -> list[str]:
    """As ticked or typed, several in one field too, each once."""
    typed = " ".join(request.GET.getlist("t")[:ASKED]).replace(",", " ").split()
    plain = (number for number in typed if len(number) <= LONGEST and number.isprintable())
    return list({number.upper(): number for number in plain}.values())[:ASKED]


def _read(seen: QuerySet[Any], numbers: list[str]) -> QuerySet[Any]:
    """The tiles of these numbers, with everything that is compared."""
    asked = Q(pk__in=[])
    for number in numbers:
        asked |= Q(number__iexact=number)
    return seen.filter(asked).for_the_wall().prefetch_related("tile_firings__firing__kiln")  # type: ignore[attr-defined]


def _shown(tile: Tile, tiles: list[Tile]) -> Shown:
    others = "&".join(f"t={other.number}" for other in tiles if other != tile)
    return Shown(card(tile), best_photo(tile), f"?{others}")


def _likely(seen: Any, tiles: list[Tile]) -> Any:
    """What one would compare the first tile with: the same layering first, then the same glazes."""
    if not tiles:
        return []
    tile = tiles[0]
    alike = TileZone.objects.filter(
        tile=OuterRef("pk"), combination__in=[zone.combination_id for zone in tile.zones.all()]
    )
    akin = Layer.objects.filter(
        tile=OuterRef("pk"), glaze__in=[layer.glaze_id for layer in tile.layers.all()]
    )
    rows = seen.exclude(pk=tile.pk).for_the_wall().annotate(is_alike=Exists(alike), is_akin=Exists(akin))
    return rows.filter(is_akin=True).order_by("-is_alike", *HANGING)[:OFFERED]
