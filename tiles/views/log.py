"""Logging: which tile, then layer upon layer, then the firing that it goes into."""

from typing import Any

from django.contrib import messages
from django.db.models import prefetch_related_objects
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from inventory.models import Fill
from studio.errors import Refused, VersionConflict
from studio.pages import PersonRequest, needs, refuse
from studio.roles import may
from studio.stations import part_of_an_entry
from tiles.actions import in_hand, load_tile, may_edit, take_in_hand
from tiles.actions.acknowledgements import waiting_in
from tiles.actions.many import last_glazed
from tiles.actions.sets import count_in_hand
from tiles.actions.tiles import BARE, GONE
from tiles.actions.whole import add_layer_answered
from tiles.cards import stack_layers
from tiles.forms.log import LayerForm, is_id
from tiles.forms.log_load import LoadForm
from tiles.forms.numbers import BareForm, NumberForm
from tiles.forms.photo import PhotoForm
from tiles.models import Tile
from tiles.planning import findings_for
from tiles.said import added_by, said_of, unseen
from tiles.views.common import own_tile, with_new_version

UNFINISHED = (*BARE, Tile.State.GLAZED)
SHOWN = 12


def fill_of(request: PersonRequest) -> Fill | None:
    """The bucket that was scanned on the way here."""
    asked = (request.POST or request.GET).get("from_fill") or request.GET.get("fill", "")
    return Fill.objects.select_related("glaze", "bucket").filter(pk=asked).first() if is_id(asked) else None


def log_address(tile: Tile, fill: Fill | None = None) -> str:
    address = reverse("tiles:log", args=[tile.number])
    return f"{address}?{urlencode({'fill': str(fill.pk)})}" if fill else address


@part_of_an_entry
@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def start(request: PersonRequest) -> HttpResponse:
    """Which tile is it?"""
    fill = fill_of(request)
    form = NumberForm(request.POST or None)
    if form.is_valid():
        number = form.cleaned_data["number"]
        tile = Tile.objects.visible_to(request.user).filter(number__iexact=number).first()
        if tile is None:
            query = {"number": number} | ({"from_fill": str(fill.pk)} if fill else {})
            return redirect(f"{reverse('tiles:number-add')}?{urlencode(query)}")
        if may_edit(request.user, tile):
            return redirect(log_address(tile, fill))
        form.add_error(
            "number",
            _("Tile %(number)s was made by %(maker)s. Only they or a technician can log layers on it.")
            % {"number": tile.number, "maker": tile.maker},
        )
    mine = Tile.objects.filter(maker=request.user, state__in=UNFINISHED).prefetch_related("layers__glaze")
    context = {
        "form": form,
        "bare": BareForm(person=request.user),
        "from_fill": fill,
        "held": in_hand(request.user),
        "set_count": count_in_hand(request.user),
        "unfinished": mine.order_by("-created_at")[:SHOWN],
    }
    return render(request, "tiles/log_start.html", context)


@part_of_an_entry
@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def page(request: PersonRequest, number: str) -> HttpResponse:
    """The layers so far and the next one. Opening it takes the tile in hand, so that a scan offers its next coat."""
    tile = own_tile(request, number)
    if request.method != "POST":
        take_in_hand(by=request.user, tile=tile)
        return show(request, tile)
    form = layer_form(request, tile, request.POST)
    is_whole = form.is_valid()
    found = added_by(tile, [form.draft()])
    if "check" in request.POST or not is_whole:
        return show(request, tile, form=form, found=found)
    if unseen(request.POST, found):
        return show(request, tile, form=form, found=found, is_unseen=True)
    try:
        layer = add_layer_answered(
            by=request.user,
            tile=tile,
            version=form.cleaned_data["version"],
            reason=request.POST.get("answer", ""),
            **form.draft(),
        )
    except Refused as refused:
        refuse(form, refused)
        return show(request, tile, form=form, found=found)
    except VersionConflict as conflict:
        form = layer_form(request, tile, with_new_version(request.POST, conflict))
        form.add_error(None, str(conflict))
        return show(request, tile, form=form, found=added_by(tile, [form.draft()]), status=409)
    words = {"n": layer.position, "glaze": layer.glaze}
    messages.success(request, _("Layer %(n)s is saved: %(glaze)s.") % words)
    return redirect("tiles:log", number=tile.number)


def layer_form(request: PersonRequest, tile: Tile, data: Any = None) -> LayerForm:
    # A chosen chip stays one of the chips, whatever else was used meanwhile.
    scanned = (data or {}).get("fill") or request.GET.get("fill", "")
    return LayerForm(data, tile=tile, person=request.user, scanned=scanned)


def load_form(request: PersonRequest, data: Any = None) -> LoadForm:
    return LoadForm(data, may_override=may(request.user, "firing.change"))


def show(
    request: PersonRequest,
    tile: Tile,
    *,
    form: LayerForm | None = None,
    found: list | None = None,
    load: LoadForm | None = None,
    photo: PhotoForm | None = None,
    load_findings: list | None = None,
    is_unseen: bool = False,
    not_answered: dict | None = None,
    status: int = 200,
) -> HttpResponse:
    """The logging page, with whatever has been typed into its forms."""
    tile.refresh_from_db()
    prefetch_related_objects([tile], "layers__glaze", "layers__stirred_in")
    is_bare = not tile.layers.exists()
    context = {
        "tile": tile,
        "layers": tile.layers.select_related("glaze", "fill__bucket"),
        "stack_layers": stack_layers(tile),
        "form": form or layer_form(request, tile),
        "said": said_of(tile),
        "not_answered": not_answered,
        "findings": found or [],
        "answer": request.POST.get("answer", ""),
        "is_unseen": is_unseen,
        "firing": waiting_in(tile),
        "repeatable": last_glazed(request.user, but=tile) if is_bare else None,
        "load_form": load or load_form(request),
        "load_findings": load_findings or [],
        "photo_form": photo or PhotoForm(),
        "is_over": tile.state in GONE,
    }
    return render(request, "tiles/log.html", context, status=status)


@require_POST
@needs("tile.log")
def check(request: PersonRequest, number: str) -> HttpResponse:
    """What there is to say about what is being typed, as a fragment."""
    tile = own_tile(request, number)
    if "firing" in request.POST:
        loading = load_form(request, request.POST)
        loading.is_valid()
        chosen = loading.cleaned_data.get("firing")
        found = findings_for(tile, firing=chosen) if chosen else []
        return render(request, "tiles/_findings.html", {"findings": found})
    form = layer_form(request, tile, request.POST)
    form.is_valid()
    context = {"findings": added_by(tile, [form.draft()]), "answer": request.POST.get("answer", "")}
    return render(request, "tiles/_draft_findings.html", context)


@part_of_an_entry
@require_POST
@needs("firing.load")
def load(request: PersonRequest, number: str) -> HttpResponse:
    """Put the tile into a firing; a body or kiln outside its cone stops it here."""
    tile = own_tile(request, number)
    form = load_form(request, request.POST)
    if not form.is_valid():
        return show(request, tile, load=form)
    firing = form.cleaned_data["firing"]
    found = findings_for(tile, firing=firing)
    if "check" not in request.POST:
        try:
            load_tile(by=request.user, tile=tile, **form.cleaned_data)
        except Refused as refused:
            refuse(form, refused)
        else:
            messages.success(request, _("It is in %(firing)s now.") % {"firing": firing})
            return redirect("tiles:log", number=tile.number)
    return show(request, tile, load=form, load_findings=found)
