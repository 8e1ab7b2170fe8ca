"""Looks that are due: crazing may come one, four and twelve weeks after the kiln."""

from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.template.defaultfilters import date as date_words
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_safe

from studio.errors import Refused
from studio.models import Person
from studio.pages import PersonRequest, needs, refuse
from studio.paging import page_of
from tiles.actions.looks import look_again, look_to_repeat
from tiles.cards import card
from tiles.drawings import TileCard
from tiles.forms.looks import LookAgainForm
from tiles.models import Tile
from tiles.queries_looks import MOST_DUE_FIRST
from tiles.views.common import tile_for


def due_counts(person: Person) -> tuple[int, int]:
    """How many tiles are due to be looked at again, and how many of them are the person's own."""
    seen: Any = Tile.objects.visible_to(person)
    others = list(seen.look_is_due(person, timezone.localdate()).values_list("is_others", flat=True))
    return len(others), others.count(0)


@require_safe
@needs("studio.see")
def due(request: PersonRequest) -> HttpResponse:
    """The tiles to look at again: the person's own first, the longest due first."""
    rows: Any = Tile.objects.visible_to(request.user).for_the_wall()
    rows = rows.look_is_due(request.user, timezone.localdate())
    found, previous_url, next_url = page_of(request, rows, ordering=MOST_DUE_FIRST)
    hung = [(tile, _hung(tile)) for tile in found]
    context = {
        "mine": [card for tile, card in hung if not tile.is_others],
        "others": [card for tile, card in hung if tile.is_others],
        "previous_url": previous_url,
        "next_url": next_url,
    }
    return render(request, "tiles/looks.html", context)


def _hung(tile: Any) -> TileCard:
    """The tile with how late it is, leading to its short look."""
    weeks = ngettext("%(n)s week after the kiln", "%(n)s weeks after the kiln", tile.weeks)
    since = _("due since %(day)s") % {"day": date_words(tile.due_on, "j F")}
    address = reverse("tiles:look-again", args=[tile.number])
    return replace(card(tile), url=address, facts=(since, weeks % {"n": tile.weeks}))


@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def again(request: PersonRequest, number: str) -> HttpResponse:
    """Is it crazed now? 'As it was' is one tap, and the next of one's own tiles follows."""
    tile = tile_for(request, number, Tile.objects.for_the_wall())
    form = LookAgainForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        crazing = form.places() if "crazed" in request.POST else None
        try:
            look_again(by=request.user, tile=tile, crazing=crazing)
        except Refused as refused:
            refuse(form, refused)
        else:
            messages.success(request, _("%(tile)s: your look is kept.") % {"tile": tile})
            own: Any = Tile.objects.visible_to(request.user)
            own = own.look_is_due(request.user, timezone.localdate()).filter(is_others=0)
            if following := own.order_by(*MOST_DUE_FIRST).first():
                return redirect("tiles:look-again", number=following.number)
            return redirect("tiles:looks-due")
    context = {
        "tile": tile,
        "card": card(tile),
        "form": form,
        "before": look_to_repeat(tile),
    }
    return render(request, "tiles/look_again.html", context)
