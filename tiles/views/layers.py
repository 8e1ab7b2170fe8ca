"""Correcting a layer, or taking one away that was logged by mistake."""

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from studio.errors import Refused, VersionConflict
from studio.pages import PersonRequest, VersionedForm, needs, refuse
from studio.stations import part_of_an_entry
from tiles.actions import change_layer, remove_layer
from tiles.forms.log import LayerForm
from tiles.models import Layer, Tile
from tiles.views.common import own_tile, with_new_version


class TakeAwayForm(VersionedForm):
    reason = forms.CharField(max_length=200, required=False)


def _layer(tile: Tile, layer: object) -> Layer:
    return get_object_or_404(tile.layers.select_related("glaze", "fill__bucket"), pk=layer)


@part_of_an_entry
@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def correct(request: PersonRequest, number: str, layer: object) -> HttpResponse:
    tile = own_tile(request, number)
    found = _layer(tile, layer)
    form = LayerForm(request.POST or None, tile=tile, person=request.user, layer=found)
    status = 200
    if form.is_valid():
        try:
            change_layer(
                by=request.user, layer=found, values=form.corrections(), version=form.cleaned_data["version"]
            )
        except Refused as refused:
            refuse(form, refused)
        except VersionConflict as conflict:
            data = with_new_version(request.POST, conflict)
            found = _layer(tile, layer)
            form = LayerForm(data, tile=tile, person=request.user, layer=found)
            form.add_error(None, str(conflict))
            status = 409
        else:
            messages.success(request, _("Layer %(n)s is corrected.") % {"n": found.position})
            return redirect("tiles:log", number=tile.number)
    return render(
        request, "tiles/log_layer.html", {"tile": tile, "layer": found, "form": form}, status=status
    )


@part_of_an_entry
@require_POST
@needs("tile.log")
def take_away(request: PersonRequest, number: str, layer: object) -> HttpResponse:
    tile = own_tile(request, number)
    found = _layer(tile, layer)
    sent = TakeAwayForm(request.POST)
    if not sent.is_valid():
        return redirect("tiles:layer-correct", number=tile.number, layer=found.pk)
    try:
        remove_layer(by=request.user, layer=found, **sent.cleaned_data)
    except (Refused, VersionConflict) as problem:
        tile.refresh_from_db()
        form = LayerForm(None, tile=tile, person=request.user, layer=found)
        context = {"tile": tile, "layer": found, "form": form, "refused": str(problem)}
        status = 409 if isinstance(problem, VersionConflict) else 200
        return render(request, "tiles/log_layer.html", context, status=status)
    messages.success(request, _("The layer of %(glaze)s is taken away.") % {"glaze": found.glaze})
    return redirect("tiles:log", number=tile.number)
