"""Filling a kiln position by position: tiles, members' pieces, what is stopped, and the sheet that lies beside it."""

import uuid
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST

from studio.errors import Refused, VersionConflict
from studio.pages import PersonRequest, conflict, needs, refuse
from tiles import actions
from tiles.actions.many import MOST_TILES
from tiles.actions.sets import by_number
from tiles.actions.stops import Stopped, findings_for_body, stops_for_body
from tiles.calc.ranges import shortened
from tiles.cards import card
from tiles.forms.loading import LoadForm, PieceForm
from tiles.forms.moving import StayForm
from tiles.kiln_sentences import caution_words
from tiles.loads import rows_seen, shelves, stopped_for
from tiles.models import Firing, Piece, Tile
from tiles.planning import in_words
from tiles.views.firing_page import show
from tiles.views.firings import PAGE, find


@require_http_methods(PAGE)
@needs("firing.load")
def load(request: PersonRequest, number: int) -> HttpResponse:
    """Pick a position, tap the tiles that wait or type their numbers, put them in: all of them or none."""
    firing = find(number)
    if request.method != "POST" and not firing.takes_tiles:
        return redirect(firing)
    waiting = waiting_tiles(request, firing)
    form = _load_form(request, firing, waiting, request.POST or None)
    if not form.is_bound or not form.is_valid():
        return _page(request, firing, form=form, waiting=waiting)
    sent = form.cleaned_data
    try:
        actions.load_many(
            by=request.user,
            firing=firing,
            tiles=sent["tiles"],
            position=sent["position"],
            override_reason=sent.get("override_reason", ""),
        )
    except Refused as refused:
        stopped = [Stopped(str(t), said) for t in sent["tiles"] if (said := stops_for_body(firing, t.body))]
        told = {"firing": "", "tile": "numbers", "tiles": "numbers"}
        if stopped and not sent.get("override_reason") and "tile" in refused.problems:
            form.add_error("numbers", _("Nothing was put in. What stops it stands above."))
        else:
            refuse(form, Refused({told.get(f, f): s for f, s in refused.problems.items()}))
            stopped = []
        return _page(request, firing, form=form, waiting=waiting, stopping=stopped)
    _say_what_went_in(request, firing, sent["tiles"])
    return _back_to(firing, sent["position"])


def waiting_tiles(request: PersonRequest, firing: Firing) -> list[Tile]:
    """The newest tiles that could go in, ready to be drawn."""
    seen: Any = Tile.objects.visible_to(request.user)
    return [*seen.waiting_for(firing.kind).for_the_wall().order_by("-created_at", "-number")[:MOST_TILES]]


def _load_form(request: PersonRequest, firing: Firing, waiting: list[Tile], data: Any = None) -> LoadForm:
    seen = Tile.objects.visible_to(request.user).select_related("body")
    start = {"position": request.GET.get("position", "")}
    return LoadForm(data, initial=start, tiles=seen, offered=waiting, firing=firing, person=request.user)


def _say_what_went_in(request: PersonRequest, firing: Firing, tiles: list[Tile]) -> None:
    names = shortened([tile.number for tile in sorted(tiles, key=by_number)])
    said = ngettext("Tile %(names)s is in.", "Tiles %(names)s are in.", len(tiles)) % {"names": names}
    messages.success(request, said)
    milder = [
        in_words(f) for tile in tiles for f in findings_for_body(firing, tile.body) if f.level != "stop"
    ]
    for sentence in dict.fromkeys(found.sentence for found in milder):
        messages.warning(request, sentence)


def _back_to(firing: Firing, position: str = "") -> HttpResponse:
    query = f"?{urlencode({'position': position})}" if position else ""
    return redirect(reverse("tiles:firing-load", args=[firing.number]) + query)


def _page(
    request: PersonRequest,
    firing: Firing,
    *,
    form: LoadForm,
    waiting: list[Tile],
    pieces: PieceForm | None = None,
    stopping: list[Stopped] | None = None,
) -> HttpResponse:
    rows = rows_seen(firing, request.user)
    if pieces is None:
        start = {"position": request.GET.get("position", "")}
        pieces = PieceForm(firing=firing, person=request.user, initial=start)
    picked = {str(value) for value in form["picked"].value() or []} if "picked" in form.fields else set()
    context = {
        "firing": firing,
        "form": form,
        "waiting": [(tile.pk, card(tile), str(tile.pk) in picked) for tile in waiting],
        "piece_form": pieces,
        "stopping": stopping or [],
        "stopped": [one for one in stopped_for(firing, rows) if not one.reason],
        "cautions": caution_words(firing.kiln),
        "shelves": shelves(firing, rows),
    }
    return render(request, "tiles/firing_load.html", context)


@require_POST
@needs("piece.load")
def add_piece(request: PersonRequest, number: int) -> HttpResponse:
    firing = find(number)
    form = PieceForm(request.POST, firing=firing, person=request.user)
    if form.is_valid():
        try:
            piece = actions.load_piece(by=request.user, firing=firing, **form.cleaned_data)
            messages.success(request, _("%(what)s: in.") % {"what": piece})
            return _back_to(firing, piece.position)
        except Refused as refused:
            refuse(form, refused)
    if not firing.takes_tiles:
        return show(request, firing, moving=form)
    waiting = waiting_tiles(request, firing)
    return _page(request, firing, form=_load_form(request, firing, waiting), waiting=waiting, pieces=form)


@require_POST
@needs("firing.load")
def take_out(request: PersonRequest, number: int) -> HttpResponse:
    firing = find(number)
    tile = get_object_or_404(
        Tile.objects.visible_to(request.user), number__iexact=request.POST.get("tile", "")
    )
    try:
        actions.take_out(by=request.user, firing=firing, tile=tile)
        messages.success(request, _("%(tile)s is out again.") % {"tile": tile})
    except Refused as refused:
        messages.error(request, str(refused))
        return redirect(firing)
    return _back_to(firing)


@require_POST
@needs("piece.load")
def take_piece_out(request: PersonRequest, number: int, piece: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(Piece.objects.select_related("firing__kiln"), pk=piece, firing__number=number)
    try:
        actions.take_piece_out(by=request.user, piece=found)
        messages.success(request, _("%(what)s: out again.") % {"what": found})
    except Refused as refused:
        messages.error(request, str(refused))
        return redirect(found.firing)
    return _back_to(found.firing)


@require_POST
@needs("firing.change")
def stay(request: PersonRequest, number: int) -> HttpResponse:
    """Why a tile or a piece stays in although its body or the kiln is outside the cone."""
    firing, form = find(number), StayForm(request.POST)
    if form.is_valid():
        named = {
            "tile": Tile.objects.filter(pk=form.cleaned_data["row"]),
            "piece": Piece.objects.filter(pk=form.cleaned_data["row"]),
        }
        what = form.cleaned_data["what"]
        try:
            actions.override_stop(
                by=request.user,
                firing=firing,
                reason=form.cleaned_data["override_reason"],
                version=form.cleaned_data["version"],
                **{what: get_object_or_404(named[what])},
            )
            return redirect(firing)
        except Refused as refused:
            refuse(form, refused)
        except VersionConflict as error:
            return conflict(request, error, form, back=firing.get_absolute_url())
    return show(request, firing, moving=form)
