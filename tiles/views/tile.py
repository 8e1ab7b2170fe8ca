"""A tile's own page, and what is changed on it by hand."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from studio.errors import Refused, VersionConflict
from studio.history_words import Entry
from studio.models import Change
from studio.pages import PersonRequest, conflict, needs, refuse
from studio.stations import part_of_an_entry
from tiles.actions import change_tile, in_hand, lay_down, may_edit, possible_states, take_in_hand
from tiles.actions.tiles import GONE
from tiles.cards import card, stack_layers
from tiles.causes import made_for
from tiles.food import record_of_tile
from tiles.forms.photo import PhotoForm
from tiles.forms.tile import TileForm
from tiles.laboratory_pages import laboratory_of
from tiles.models import Tile
from tiles.queries_marks import marks_of
from tiles.rails import FIRED
from tiles.record import cone_basis, touches
from tiles.sentences import VISIBILITY as MEANING
from tiles.story import story
from tiles.views.common import own_tile, tile_for

NEWEST = 10  # rows of the history behind the fold; the rest has a page of its own


@require_safe
def page(request: PersonRequest, number: str) -> HttpResponse:
    tile = tile_for(request, number, Tile.objects.for_the_wall())
    if tile.number != number:
        return redirect(tile, permanent=True)
    held = in_hand(request.user)
    context = {
        "tile": tile,
        "card": card(tile),
        "stack_layers": stack_layers(tile),
        "basis": cone_basis(tile),
        "story": story(tile),
        "visibility": MEANING[tile.visibility],
        "touches": touches(tile),
        "laboratory": laboratory_of(tile, request.user),
        "marks": marks_of(tile),
        "food": record_of_tile(tile),
        "last": next(iter(tile.outcomes.all()), None),
        "entries": [Entry(change) for change in _history(tile)],
        "photos": tile.photos.all(),
        "photo_form": PhotoForm(),
        "may_edit": may_edit(request.user, tile),
        "made_for": made_for(tile, request.user),
        "is_held": held == tile,
        "is_over": tile.state in GONE,
        "is_fired": tile.state in FIRED,
    }
    return render(request, "tiles/tile.html", context)


def _history(tile: Tile) -> Any:
    return Change.objects.filter(kind="tiles.tile", object_id=tile.pk)[:NEWEST]


@part_of_an_entry
@require_POST
@needs("tile.log")
def hand(request: PersonRequest, number: str) -> HttpResponse:
    """Take the tile in hand and go on logging, or lay it down."""
    tile = own_tile(request, number)
    if request.POST.get("do") == "lay_down":
        lay_down(by=request.user)
        messages.success(request, _("%(tile)s is laid down.") % {"tile": tile})
        return redirect(tile)
    take_in_hand(by=request.user, tile=tile)
    return redirect("tiles:log", number=tile.number)


@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def edit(request: PersonRequest, number: str) -> HttpResponse:
    tile = own_tile(request, number)
    form = TileForm(request.POST or None, tile=tile, states=possible_states(tile))
    if form.is_valid():
        try:
            change_tile(by=request.user, obj=tile, values=form.values(), version=form.cleaned_data["version"])
        except Refused as refused:
            refuse(form, refused)
        except VersionConflict as error:
            return conflict(request, error, form, back=reverse("tiles:tile-edit", args=[tile.number]))
        else:
            messages.success(request, _("It is changed."))
            return redirect(tile)
    return render(request, "tiles/tile_edit.html", {"tile": tile, "form": form})
