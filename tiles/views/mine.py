"""My tiles: those that wait for a word about how they came out first."""

from dataclasses import replace

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from studio.pages import PersonRequest, needs
from tiles.cards import card
from tiles.drawings import TileCard
from tiles.models import Tile
from tiles.queries_mine import MINE_FIRST, WAITING, own_tiles
from tiles.rails import rails_of
from tiles.sentences import VISIBILITY
from tiles.views.common import page_or_way_back


@require_safe
@needs("tile.log")
def page(request: PersonRequest) -> HttpResponse:
    rows = own_tiles(request.user)
    hung, previous_url, next_url = page_or_way_back(request, rows, ordering=MINE_FIRST)
    context = {
        "rails": rails_of(hung, _rail_name, _hung),
        "count": rows.count(),
        "meanings": [(label, VISIBILITY[value]) for value, label in Tile.Visibility.choices],
        "previous_url": previous_url,
        "next_url": next_url,
    }
    return render(request, "tiles/mine.html", context)


def _rail_name(tile: Tile) -> str:
    if tile.mine_order == WAITING:  # type: ignore[attr-defined]
        return _("Waiting for a result")
    return str(tile.get_state_display()).capitalize()


def _hung(tile: Tile) -> TileCard:
    """Private ones are marked, and so are those that visitors see."""
    drawn = card(tile)
    if tile.visibility == Tile.Visibility.STUDIO:
        return drawn
    seen_by = _("seen by: %(whom)s") % {"whom": tile.get_visibility_display()}
    return replace(drawn, note=" · ".join(filter(None, [seen_by, drawn.note])))
