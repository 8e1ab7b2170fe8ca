"""Runs of numbers: tiles just made, and what has become of them."""

import uuid
from collections import Counter
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_safe

from studio.errors import Refused
from studio.filtering import filtered, named
from studio.pages import PersonRequest, needs, refuse
from studio.paging import page_of
from studio.stations import part_of_an_entry
from tiles.actions import lay_set_down, make_run, mark_tiles, may_edit, take_set
from tiles.actions.making import FOUND
from tiles.actions.many import hang
from tiles.actions.sets import by_number
from tiles.actions.tiles import BARE
from tiles.calc.ranges import shortened
from tiles.cards import card
from tiles.filters import RunFilter
from tiles.forms.numbers import RunForm
from tiles.forms.several import SeveralForm
from tiles.models import NumberRun, Tile
from tiles.views.log import fill_of

WRITES = ["GET", "HEAD", "POST"]
NEWEST = ("-created_at", "-id")


@require_http_methods(WRITES)
@needs("tile.log")
def reserve(request: PersonRequest) -> HttpResponse:
    """Numbers for tiles just made, with the bisque firing that they go into or came out of."""
    form = RunForm(request.POST or None, person=request.user)
    if form.is_valid():
        try:
            made = make_run(by=request.user, **form.values())
        except Refused as refused:
            refuse(form, refused)
        else:
            return redirect("tiles:number-run", run=made[0].run_id)
    return render(request, "tiles/number_reserve.html", {"form": form})


@require_safe
@needs("tile.log")
def listing(request: PersonRequest) -> HttpResponse:
    """My runs, each with its tiles by state."""
    data = request.GET.copy()
    data.setdefault("mine", "true")
    filterset, rows, problems = filtered(RunFilter, data, NumberRun.objects.visible_to(request.user), request)
    found: list[NumberRun] = []
    previous_url = next_url = None
    if not problems:
        try:
            found, previous_url, next_url = page_of(
                request, rows.select_related("reserved_by"), ordering=NEWEST
            )
        except Refused as refused:
            problems = refused.problems
    context = {
        "rows": [(run, counts) for run, counts in zip(found, counts_of(request.user, found), strict=True)],
        "problems": named(filterset.form, problems),
        "is_mine": data["mine"] == "true",
        "previous_url": previous_url,
        "next_url": next_url,
    }
    return render(request, "tiles/run_list.html", context)


def counts_of(person: Any, runs: list[NumberRun]) -> list[list[tuple[Any, int]]]:
    """For each run its tiles that the person may see, by state in words."""
    rows = Tile.objects.visible_to(person).filter(run__in=runs).order_by().values_list("run", "state")
    counted = Counter(rows)
    return [
        [(label, n) for state, label in Tile.State.choices if (n := counted[run.pk, state])] for run in runs
    ]


@require_safe
@needs("tile.log")
def written(request: PersonRequest, run: uuid.UUID) -> HttpResponse:
    """The reserved numbers, large enough to copy onto the backs."""
    found = get_object_or_404(NumberRun.objects.visible_to(request.user), pk=run)
    tiles = found.tiles.visible_to(request.user).select_related("body")
    ordered = sorted(tiles, key=by_number)
    context = {"tiles": ordered, "run": found, "from_fill": fill_of(request)}
    return render(request, "tiles/number_run.html", context)


@require_safe
@needs("tile.log")
def page(request: PersonRequest, run: uuid.UUID) -> HttpResponse:
    """A run's tiles by state, and what can be done with several of them at once."""
    found = get_object_or_404(NumberRun.objects.visible_to(request.user), pk=run)
    tiles = sorted(found.tiles.visible_to(request.user).for_the_wall(), key=by_number)
    by_state = [
        (label, [card(tile) for tile in tiles if tile.state == state]) for state, label in Tile.State.choices
    ]
    form = SeveralForm(tiles=Tile.objects.visible_to(request.user), offered=tiles)
    # Nothing is ticked from the start, so that one broken tile does not take the others with it.
    form.fields["numbers"].help_text = _("All of them: %(run)s.") % {"run": found}
    context = {
        "run": found,
        "first": tiles[0] if tiles else None,
        "by_state": [(label, cards) for label, cards in by_state if cards],
        "bare": shortened(
            [tile.number for tile in tiles if tile.state in BARE and may_edit(request.user, tile)]
        ),
        "form": form,
    }
    return render(request, "tiles/run.html", context)


@part_of_an_entry
@require_http_methods(WRITES)
@needs("tile.log")
def several(request: PersonRequest) -> HttpResponse:
    """One act for several tiles: glaze all alike, hang, take down, lost, broken, found again."""
    form = SeveralForm(request.POST or None, tiles=Tile.objects.visible_to(request.user))
    if form.is_valid():
        try:
            return _do(request, **{name: form.cleaned_data[name] for name in ("tiles", *form.acts)})
        except Refused as refused:
            refuse(form, refused)
    return render(request, "tiles/several.html", {"form": form})


def _do(request: PersonRequest, *, tiles: list[Tile], do: str, place: Any, reason: str) -> HttpResponse:
    n = len(tiles)
    if do == "set":
        lay_set_down(by=request.user)
        take_set(by=request.user, tiles=tiles)
        return redirect("tiles:log-set")
    if do in ("hang", "off"):
        hang(by=request.user, tiles=tiles, place=place if do == "hang" else None)
        if do == "hang":
            said = ngettext("%(n)s tile hangs here now.", "%(n)s tiles hang here now.", n)
        else:
            said = ngettext("%(n)s tile is taken down.", "%(n)s tiles are taken down.", n)
        messages.success(request, said % {"n": n})
        return redirect("tiles:board", pk=place.pk) if do == "hang" else redirect("tiles:run-list")
    mark_tiles(by=request.user, tiles=tiles, mark=do, reason=reason)
    words = {FOUND: _("found again")}.get(do) or Tile.State(do).label
    said = ngettext("%(n)s tile is marked: %(words)s.", "%(n)s tiles are marked: %(words)s.", n)
    messages.success(request, said % {"n": n, "words": words})
    runs = {tile.run_id for tile in tiles}
    (run,) = runs if len(runs) == 1 else (None,)
    return redirect("tiles:run", run=run) if run else redirect("tiles:run-list")
