"""Unloading with a thumb: tile after tile, each look kept as it is tapped."""

import uuid
from datetime import timedelta
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.timesince import timesince
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from studio.errors import Refused
from studio.pages import PersonRequest, needs, refuse
from studio.stations import part_of_an_entry
from tiles.actions import add_photo
from tiles.actions.unloading import (
    PHOTO,
    SomebodyLooked,
    draft_of,
    drop_draft,
    keep_draft,
    keep_look,
    keep_photo_for_look,
    newest_look,
)
from tiles.cards import card
from tiles.forms.photo import PhotoForm
from tiles.forms.unload import LookForm
from tiles.models import Firing, Outcome, Photo, Tile
from tiles.unloading import Stop, is_unloadable, next_stop, stops
from tiles.views.firings import find


@require_safe
@needs("tile.log")
def begin(request: PersonRequest, number: int) -> HttpResponse:
    """The first tile that nobody has looked at; with none left, all of them."""
    firing = find(number)
    if not is_unloadable(firing):
        return _not_yet(request, firing)
    return _onward(firing, next_stop(stops(firing, request.user)))


@require_safe
@needs("tile.log")
def everything(request: PersonRequest, number: int) -> HttpResponse:
    """The whole unloading, hung up: what is done and what was passed over."""
    firing = find(number)
    if not is_unloadable(firing):
        return _not_yet(request, firing)
    found = stops(firing, request.user, hung=True)
    context = {
        "firing": firing,
        "hung": [(stop, card(stop.tile)) for stop in found],
        "left": [stop for stop in found if stop.is_open],
        "unsorted": firing.loose_photos.visible_to(request.user).unsorted().count(),
    }
    return render(request, "tiles/unloaded.html", context)


@part_of_an_entry
@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def one(request: PersonRequest, number: int, tile: str) -> HttpResponse:
    firing, found, stop = _at(request, number, tile)
    if not is_unloadable(firing):
        return _not_yet(request, firing)
    if request.method != "POST":
        return _show(request, firing, found, stop)
    if "leave" in request.POST:
        drop_draft(by=request.user, tile=stop.tile)
        return _onward(firing, next_stop(found, after=stop.tile))
    form = LookForm(request.POST, tile=stop.tile)
    if not form.is_valid():
        return _show(request, firing, found, stop, form)
    try:
        kept = keep_look(by=request.user, firing=firing, tile=stop.tile, **form.fields_of_look())
    except SomebodyLooked as told:
        return _show(request, firing, found, stop, form, theirs=told.look)
    except Refused as refused:
        refuse(form, refused)
        return _show(request, firing, found, stop, form)
    if kept.taken_back_at:
        # A browser went back to the form of it, and would else be told that it is kept.
        said = _("This look at %(tile)s was taken back: it counts for nothing. Look anew if it was right.")
        messages.warning(request, said % {"tile": stop.tile})
        return _onward(firing, stop)
    messages.success(request, _("%(tile)s is kept.") % {"tile": stop.tile})
    if "stay" in request.POST:
        return _onward(firing, stop)
    return _onward(firing, next_stop(found, after=stop.tile))


@part_of_an_entry
@require_POST
@needs("tile.log")
def draft(request: PersonRequest, number: int, tile: str) -> HttpResponse:
    """What was tapped so far; htmx sends it after every tap."""
    firing, _found, stop = _at(request, number, tile)
    asked = LookForm(tile=stop.tile).fields
    sent = {name: values for name, values in request.POST.lists() if name in asked and name != "knows"}
    keep_draft(by=request.user, firing=firing, tile=stop.tile, data=sent)
    return HttpResponse(status=204)


@part_of_an_entry
@require_POST
@needs("tile.log")
def photo(request: PersonRequest, number: int, tile: str) -> HttpResponse:
    """Kept at once: a phone that sleeps loses no photo. htmx gets the picture back, else the page."""
    firing, _found, stop = _at(request, number, tile)
    form = PhotoForm({"caption": ""}, request.FILES)
    if form.is_valid():
        try:
            kept = add_photo(by=request.user, tile=stop.tile, file=form.chosen_photo)
            keep_photo_for_look(by=request.user, firing=firing, photo=kept)
        except Refused as refused:
            refuse(form, refused)
    said = [str(sentence) for sentences in form.errors.values() for sentence in sentences]
    if request.htmx:  # type: ignore[attr-defined]
        context = {"firing": firing, "tile": stop.tile, "said": said, **_pictures(request, firing, stop.tile)}
        return render(request, "tiles/_unload_photo.html", context)
    for sentence in said:
        messages.error(request, sentence)
    return _onward(firing, stop)


def _at(request: PersonRequest, number: int, tile: str) -> tuple[Firing, list[Stop], Stop]:
    """The firing, all its tiles and the one of the address; a tile that the person may not see is not there."""
    firing = find(number)
    found = stops(firing, request.user)
    stop = next((s for s in found if s.tile.number.casefold() == tile.casefold()), None)
    if stop is None:
        raise Http404
    return firing, found, stop


def _show(
    request: PersonRequest,
    firing: Firing,
    found: list[Stop],
    stop: Stop,
    form: LookForm | None = None,
    *,
    theirs: Outcome | None = None,
) -> HttpResponse:
    tile = Tile.objects.for_the_wall().get(pk=stop.tile.pk)
    newest = theirs or newest_look(firing, tile, request.user)
    if form is None:
        kept = draft_of(request.user, firing, tile)
        form = LookForm(tile=tile, draft={"look": [str(uuid.uuid4())], **kept})
    looks = tile.outcomes.filter(firing=firing).select_related("by").prefetch_related("faults")
    context = {
        "firing": firing,
        "tile": tile,
        "card": card(tile),
        "stops": found,
        "here": stop,
        "form": form,
        "knows": newest.pk if newest else "",
        "theirs": theirs,
        "ago": _ago(theirs) if theirs else "",
        "looks": looks,
        "done": sum(not s.is_open for s in found),
        "skip_url": _address(firing, next_stop(found, after=stop.tile)),
        **_pictures(request, firing, tile),
    }
    return render(request, "tiles/unload.html", context)


def _ago(look: Outcome) -> str:
    if timezone.now() - look.created_at < timedelta(minutes=1):
        return _("just now")
    return _("%(time)s ago") % {"time": timesince(look.created_at)}


def _pictures(request: PersonRequest, firing: Firing, tile: Tile) -> dict[str, Any]:
    """The photos taken for the look that is being made."""
    taken = draft_of(request.user, firing, tile).get(PHOTO, [])
    kept = Photo.objects.filter(pk__in=taken, tile=tile, archived_at=None)
    return {"taken": kept.order_by("-created_at"), "photo_form": PhotoForm(auto_id=False)}


def _address(firing: Firing, stop: Stop | None) -> str:
    if stop is None:
        return reverse("tiles:unloaded", args=[firing.number])
    return reverse("tiles:unload-tile", args=[firing.number, stop.tile.number])


def _onward(firing: Firing, stop: Stop | None) -> HttpResponse:
    return redirect(_address(firing, stop))


def _not_yet(request: PersonRequest, firing: Firing) -> HttpResponse:
    if firing.kind == Firing.Kind.BISQUE:
        messages.error(request, _("A bisque firing melts no glaze, so there is nothing to look at."))
    else:
        said = _("%(firing)s is %(state)s. Its tiles are looked at when it is unloaded.")
        messages.error(request, said % {"firing": firing, "state": firing.get_state_display()})
    return redirect(firing)
