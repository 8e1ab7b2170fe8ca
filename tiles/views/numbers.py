"""Numbers: one for a bare back, a run for tiles just made, or the one that a tile already carries."""

import uuid

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from studio.errors import Refused
from studio.pages import PersonRequest, needs, refuse
from studio.stations import part_of_an_entry
from tiles.actions import add_tile, next_number, reserve_numbers
from tiles.forms.numbers import BareForm, NewTileForm, ReserveForm
from tiles.models import NumberRun
from tiles.views.log import fill_of, log_address


@part_of_an_entry
@require_POST
@needs("tile.log")
def bare(request: PersonRequest) -> HttpResponse:
    """The next free number, for a tile on which nothing is written."""
    form = BareForm(request.POST, person=request.user)
    body = form.cleaned_data["body"] if form.is_valid() else None
    tile = next_number(by=request.user, body=body)
    fill = fill_of(request)
    address = reverse("tiles:number-run", args=[tile.run_id])
    return redirect(f"{address}?{urlencode({'fill': str(fill.pk)})}" if fill else address)


@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def reserve(request: PersonRequest) -> HttpResponse:
    form = ReserveForm(request.POST or None, person=request.user)
    if form.is_valid():
        try:
            made = reserve_numbers(by=request.user, **form.cleaned_data)
        except Refused as refused:
            refuse(form, refused)
        else:
            return redirect("tiles:number-run", run=made[0].run_id)
    return render(request, "tiles/number_reserve.html", {"form": form})


@require_safe
@needs("tile.log")
def written(request: PersonRequest, run: uuid.UUID) -> HttpResponse:
    """The reserved numbers, large enough to copy onto the backs."""
    found = get_object_or_404(NumberRun, pk=run)
    tiles = found.tiles.visible_to(request.user).select_related("body").order_by("created_at", "number")
    ordered = sorted(tiles, key=lambda tile: int(tile.number[len(found.prefix) :]))
    return render(request, "tiles/number_run.html", {"tiles": ordered, "from_fill": fill_of(request)})


@part_of_an_entry
@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def add(request: PersonRequest) -> HttpResponse:
    """A tile by the number that it already carries."""
    fill = fill_of(request)
    initial = {"number": request.GET.get("number", "")}
    form = NewTileForm(request.POST or None, person=request.user, initial=initial)
    if form.is_valid():
        try:
            tile = add_tile(by=request.user, **form.cleaned_data)
        except Refused as refused:
            refuse(form, refused)
        else:
            messages.success(request, _("%(tile)s is added.") % {"tile": tile})
            return redirect(log_address(tile, fill))
    return render(request, "tiles/number_add.html", {"form": form, "from_fill": fill})
