"""A board with its hooks, and what hangs there."""

import uuid

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from inventory.models import Place
from inventory.walk import Walk
from studio.errors import Refused
from studio.pages import PersonRequest, needs, refuse
from studio.roles import may
from tiles.actions.many import hang
from tiles.actions.sets import by_number
from tiles.cards import card
from tiles.forms.several import HangForm
from tiles.models import Tile

OFFERED = 24


@require_http_methods(["GET", "HEAD", "POST"])
@needs("studio.see")
def board(request: PersonRequest, pk: uuid.UUID) -> HttpResponse:
    """Any place, with the places in or on it. Tiles name only the place, so a board that is moved takes them along."""
    found = get_object_or_404(Place.objects.select_related("parent"), pk=pk)
    walk = Walk.now()
    first, last = walk.stretch(found.pk)
    inside = [row.pk for row, _depth in walk.steps[first + 1 : last + 1]]
    by_pk = Place.objects.in_bulk(inside)
    parts = [by_pk[key] for key in inside if by_pk[key].archived_at is None]
    seen = Tile.objects.visible_to(request.user)
    form = HangForm(
        request.POST or None,
        tiles=seen,
        offered=seen.filter(place=None, maker=request.user).exclude(state__in=["lost", "broken"])[:OFFERED],
        board=found,
        parts=parts,
    )
    if form.is_valid():
        onto = form.cleaned_data["onto"]
        try:
            hang(by=request.user, tiles=form.cleaned_data["tiles"], place=onto)
        except Refused as refused:
            refuse(form, refused)
        else:
            messages.success(request, _("They hang on %(place)s now.") % {"place": onto})
            return redirect("tiles:board", pk=found.pk)
    hung = sorted(seen.for_the_wall().filter(place__in=[found.pk, *inside]), key=by_number)
    named = [(found, found.name), *((part, way(walk, part, found)) for part in parts)]
    context = {
        "place": found,
        "way": walk.words(found.pk),
        "parts": parts,
        "rails": [(part, words, [card(t) for t in hung if t.place_id == part.pk]) for part, words in named],
        "form": form if may(request.user, "tile.hang") and not found.archived_at else None,
    }
    return render(request, "tiles/board.html", context)


def way(walk: Walk, part: Place, board: Place) -> str:
    """The way to a part from the board on."""
    return walk.words(part.pk).removeprefix(walk.words(board.pk)).lstrip(" ›")
