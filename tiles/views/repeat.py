"""Same as another tile, but: its layers with one change or none, put on in one step."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from inventory.models import Fill
from studio.errors import Refused, VersionConflict
from studio.pages import PersonRequest, needs
from studio.stations import part_of_an_entry
from tiles.actions.many import changed_layers, last_glazed, layers_of, repeat_tile
from tiles.cards import stack_layers
from tiles.causes import made_for
from tiles.forms.log import is_version
from tiles.forms.numbers import NumberForm
from tiles.forms.repeat import RepeatedLayer
from tiles.models import Tile
from tiles.said import added_by, unseen
from tiles.views.common import own_tile


@part_of_an_entry
@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def page(request: PersonRequest, number: str) -> HttpResponse:
    tile = own_tile(request, number)
    source = _source(request, tile)
    forms = _layers(source, request.POST if request.method == "POST" else None)
    if request.method != "POST" or source is None or not forms:
        return _show(request, tile, source, forms)
    # Each is asked, so that each says what is wrong with it.
    if sum(not form.is_valid() for form in forms):
        problem = _("One thing needs another look. What you typed is still here.")
        return _show(request, tile, source, forms, problems=[problem])
    changed = {n: said for n, form in enumerate(forms, start=1) if (said := form.changes()) != {}}
    found = added_by(tile, changed_layers(source, changed))
    if unseen(request.POST, found):
        return _show(request, tile, source, forms, findings=found, is_unseen=True)
    sent = request.POST.get("version", "")
    try:
        repeat_tile(
            by=request.user,
            source=source,
            tile=tile,
            changed=changed,
            version=int(sent) if is_version(sent) else None,
            reason=request.POST.get("answer", ""),
        )
    except Refused as refused:
        problems = [sentence for sentences in refused.problems.values() for sentence in sentences]
        return _show(request, tile, source, forms, findings=found, problems=problems)
    except VersionConflict as conflict:
        tile.refresh_from_db()
        return _show(request, tile, source, forms, findings=found, problems=[str(conflict)], status=409)
    messages.success(
        request, _("The layers of %(source)s are on %(tile)s.") % {"source": source, "tile": tile}
    )
    return redirect("tiles:log", number=tile.number)


def _source(request: PersonRequest, tile: Tile) -> Tile | None:
    """The tile that is asked for, else the one on which this person put a layer last."""
    asked = (request.POST or request.GET).get("as", "").strip()
    seen = Tile.objects.visible_to(request.user).exclude(pk=tile.pk)
    return seen.filter(number__iexact=asked).first() if asked else last_glazed(request.user, but=tile)


def _layers(source: Tile | None, data: Any) -> list[RepeatedLayer]:
    if source is None:
        return []
    fills = list(Fill.objects.in_use().select_related("glaze", "bucket").order_by("glaze__name"))
    return [
        RepeatedLayer(data, prefix=f"layer{n}", layer=layer, fills=fills)
        for n, layer in enumerate(layers_of(source), start=1)
    ]


def _show(
    request: PersonRequest, tile: Tile, source: Tile | None, forms: list, *, status: int = 200, **more: Any
) -> HttpResponse:
    asked = (request.POST or request.GET).get("as", "")
    drawn = stack_layers(source) if source else []
    context = {
        "tile": tile,
        "source": source,
        "rows": list(zip(drawn, forms, strict=True)),
        "stack_layers": drawn,
        "number_form": NumberForm(initial={"number": asked}),
        "not_found": asked if source is None else "",
        "answer": request.POST.get("answer", ""),
        "trial": made_for(tile, request.user),
        **more,
    }
    return render(request, "tiles/repeat.html", context, status=status)
