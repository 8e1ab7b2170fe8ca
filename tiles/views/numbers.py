"""Numbers: one for a bare back, or the one that a tile already carries. Runs are in runs.py."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from studio.errors import Refused
from studio.pages import PersonRequest, needs, refuse
from studio.stations import part_of_an_entry
from tiles.actions import add_tile, next_number
from tiles.forms.numbers import BareForm, NewTileForm
from tiles.views.log import fill_of, log_address


@part_of_an_entry
@require_POST
@needs("tile.log")
def bare(request: PersonRequest) -> HttpResponse:
    """The next free number, for a tile on which nothing is written."""
    form = BareForm(request.POST, person=request.user)
    body = form.cleaned_data["body"] if form.is_valid() else None
    try:
        tile = next_number(by=request.user, body=body)
    except Refused as refused:
        messages.error(request, str(refused))
        return redirect("tiles:log-start")
    fill = fill_of(request)
    address = reverse("tiles:number-run", args=[tile.run_id])
    return redirect(f"{address}?{urlencode({'fill': str(fill.pk)})}" if fill else address)


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
