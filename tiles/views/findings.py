"""Answering what is said of a tile."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from studio.errors import Refused
from studio.pages import PersonRequest, needs
from studio.stations import part_of_an_entry
from tiles.actions.acknowledgements import acknowledge
from tiles.views.common import own_tile
from tiles.views.log import show


@part_of_an_entry
@require_POST
@needs("tile.log")
def answer(request: PersonRequest, number: str) -> HttpResponse:
    """Keep the reason why a finding is all right here."""
    tile = own_tile(request, number)
    sent = {"key": request.POST.get("key", ""), "reason": request.POST.get("reason", "")}
    try:
        acknowledge(by=request.user, tile=tile, key=sent["key"], reason=sent["reason"])
    except Refused as refused:
        return show(request, tile, not_answered={**sent, "problem": str(refused)})
    messages.success(request, _("Your answer is kept with the tile."))
    return redirect(tile) if request.POST.get("back") == "tile" else redirect("tiles:log", number=tile.number)
