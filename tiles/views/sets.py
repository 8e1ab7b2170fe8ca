"""Tiles that are glazed all alike: choose them once, then each layer said once goes onto all of them."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from inventory.models import Fill
from studio.errors import Refused, VersionConflict
from studio.pages import PersonRequest, needs, refuse
from studio.stations import part_of_an_entry
from tiles.actions import lay_set_down, set_in_hand, take_set
from tiles.actions.many import glaze_many
from tiles.actions.sets import by_number
from tiles.actions.tiles import BARE
from tiles.calc.ranges import shortened
from tiles.cards import card, stack_layers
from tiles.forms.log import SetLayerForm
from tiles.forms.several import SetForm
from tiles.models import NumberRun, Tile
from tiles.said import added_by_all, unseen
from tiles.views.log import fill_of

OFFERED, RUNS = 30, 4


def set_address(fill: Fill | None) -> str:
    return reverse("tiles:log-set") + (f"?{urlencode({'fill': str(fill.pk)})}" if fill else "")


@part_of_an_entry
@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def choose(request: PersonRequest) -> HttpResponse:
    """Which tiles: a run, numbers, or picking."""
    mine = Tile.objects.editable_by(request.user)
    bare = sorted(
        mine.filter(maker=request.user, state__in=BARE).order_by("-created_at")[:OFFERED], key=by_number
    )
    runs = NumberRun.objects.filter(tiles__in=mine.filter(state__in=BARE)).distinct().order_by("-created_at")
    form = SetForm(
        request.POST or None,
        tiles=Tile.objects.visible_to(request.user),
        offered=bare,
        runs=NumberRun.objects.filter(pk__in=[run.pk for run in runs[:RUNS]]),
    )
    if form.is_valid():
        try:
            take_set(by=request.user, tiles=form.cleaned_data["tiles"])
        except Refused as refused:
            refuse(form, refused)
        else:
            return redirect(set_address(fill_of(request)))
    return render(request, "tiles/set_choose.html", {"form": form, "from_fill": fill_of(request)})


@part_of_an_entry
@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def page(request: PersonRequest) -> HttpResponse:
    """The tiles small, their layers so far, and the next one for all of them."""
    tiles = set_in_hand(request.user)
    if not tiles:
        query = request.GET.urlencode()
        return redirect(reverse("tiles:set-choose") + (f"?{query}" if query else ""))
    if request.method != "POST":
        return _show(request, tiles, _form(request, tiles))
    form = _form(request, tiles, request.POST)
    is_whole = form.is_valid()
    found = added_by_all(tiles, form.draft())
    if "check" in request.POST or not is_whole:
        return _show(request, tiles, form, found)
    if unseen(request.POST, found):
        return _show(request, tiles, form, found, is_unseen=True)
    try:
        glaze_many(
            by=request.user,
            tiles=tiles,
            layers=[form.draft()],
            versions=form.versions_read(),
            reason=request.POST.get("answer", ""),
        )
    except Refused as refused:
        refuse(form, refused)
        return _show(request, tiles, form, found)
    except VersionConflict as conflict:
        return _late(request, conflict)
    words = {"glaze": form.draft()["glaze"], "n": len(tiles)}
    messages.success(request, _("%(glaze)s is on all %(n)s tiles.") % words)
    return redirect("tiles:log-set")


def _late(request: PersonRequest, conflict: VersionConflict) -> HttpResponse:
    """Somebody changed one of them meanwhile: what was typed, under the versions that it will meet."""
    tiles = set_in_hand(request.user)
    data = request.POST.copy()
    data["versions"] = _form(request, tiles).initial["versions"]
    form = _form(request, tiles, data)
    form.is_valid()
    form.add_error(None, f"{conflict.record}: {conflict}")
    return _show(request, tiles, form, added_by_all(tiles, form.draft()), status=409)


def _form(request: PersonRequest, tiles: list[Tile], data: Any = None) -> SetLayerForm:
    scanned = (data or {}).get("fill") or request.GET.get("fill", "")
    return SetLayerForm(data, tiles=tiles, person=request.user, scanned=scanned)


def _show(
    request: PersonRequest,
    tiles: list[Tile],
    form: SetLayerForm,
    found: list | None = None,
    *,
    is_unseen: bool = False,
    status: int = 200,
) -> HttpResponse:
    stacks: dict[Any, list[Tile]] = {}
    for tile in tiles:
        stacks.setdefault(tuple(stack_layers(tile)), []).append(tile)
    context = {
        "tiles": tiles,
        "cards": [card(tile) for tile in tiles],
        "numbers": shortened([tile.number for tile in tiles]),
        "stacks": [
            (list(layers), alike[0], shortened([tile.number for tile in alike]))
            for layers, alike in stacks.items()
        ],
        "form": form,
        "findings": found or [],
        "answer": request.POST.get("answer", ""),
        "is_unseen": is_unseen,
    }
    return render(request, "tiles/set.html", context, status=status)


@require_POST
@needs("tile.log")
def check(request: PersonRequest) -> HttpResponse:
    """What there is to say about what is being typed, as a fragment."""
    tiles = set_in_hand(request.user)
    found: list = []
    if tiles:
        form = _form(request, tiles, request.POST)
        form.is_valid()
        found = added_by_all(tiles, form.draft())
    context = {"findings": found, "answer": request.POST.get("answer", "")}
    return render(request, "tiles/_draft_findings.html", context)


@require_POST
@needs("tile.log")
def done(request: PersonRequest) -> HttpResponse:
    """Lay the set down: the entry is whole."""
    tiles = set_in_hand(request.user)
    lay_set_down(by=request.user)
    runs = {tile.run_id for tile in tiles}
    (run,) = runs if len(runs) == 1 else (None,)
    messages.success(request, _("The set is laid down. Everything is kept with its tiles."))
    return redirect("tiles:run", run=run) if run else redirect("tiles:log-start")
