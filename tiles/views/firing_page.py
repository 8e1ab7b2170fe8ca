"""One firing: its next step, what is in it, what goes in and out."""

from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.db.models import Prefetch
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_POST, require_safe

from inventory.sentences import cone_words
from studio.errors import Refused, VersionConflict
from studio.pages import PersonRequest, conflict, needs, refuse
from studio.roles import may
from tiles import actions
from tiles.actions.moving import NEXT
from tiles.actions.stops import findings_for_body
from tiles.calc.witness import TileCone
from tiles.cards import card
from tiles.drawings import TileCard
from tiles.forms.firing import LoadForm, MoveForm
from tiles.models import Firing, Tile, TileFiring
from tiles.planning import in_words
from tiles.sentences import basis_words
from tiles.views.firings import find

# What is pressed to take a firing on, by the state that it leads to.
STEPS = {
    "planned": gettext_lazy("Back to planned"),
    "loading": gettext_lazy("Begin to load"),
    "firing": gettext_lazy("It is firing now"),
    "cooling": gettext_lazy("It is cooling"),
    "unloaded": gettext_lazy("It is unloaded"),
    "stopped": gettext_lazy("It was stopped early"),
}
ONWARD = ("loading", "firing", "cooling", "unloaded")
CAUTIONS = {
    "lead_or_cadmium": gettext_lazy(
        "Lead or cadmium is known or suspected in this kiln. What fumes can settle on other pots."
    ),
    "lustre": gettext_lazy("Lustre has been fired in this kiln. Its fumes can settle on other pots."),
    "salt": gettext_lazy("Salt or soda has been fired in this kiln. Its walls can glaze bare clay."),
}


@require_safe
@needs("studio.see")
def page(request: PersonRequest, number: int) -> HttpResponse:
    return _page(request, find(number))


def _page(
    request: PersonRequest, firing: Firing, *, load: LoadForm | None = None, **more: Any
) -> HttpResponse:
    if load is None and firing.takes_tiles and may(request.user, "firing.load"):
        load = LoadForm(firing=firing, may_override=may(request.user, "firing.change"))
    return render(request, "tiles/firing.html", {**page_context(request, firing), "load": load, **more})


@require_POST
@needs("firing.change")
def move(request: PersonRequest, number: int) -> HttpResponse:
    firing, form = find(number), MoveForm(request.POST)
    if form.is_valid():
        sent = form.cleaned_data
        try:
            actions.move_firing(
                by=request.user,
                firing=firing,
                state=sent["state"],
                version=sent["version"],
                reason=sent["reason"],
            )
            return redirect(firing)
        except Refused as refused:
            refuse(form, refused)
        except VersionConflict as error:
            return conflict(request, error, form, back=firing.get_absolute_url())
    firing.refresh_from_db()
    return _page(request, firing, moving=form)


@require_POST
@needs("firing.load")
def load(request: PersonRequest, number: int) -> HttpResponse:
    """Put a tile in. What stops it is listed; a technician may say why it goes in all the same."""
    firing = find(number)
    form = LoadForm(request.POST, firing=firing, may_override=may(request.user, "firing.change"))
    if not form.is_valid():
        return _page(request, firing, load=form)
    sent = form.cleaned_data
    seen = Tile.objects.visible_to(request.user).select_related("body")
    tile = seen.filter(number__iexact=sent["number"].strip()).first()
    if tile is None:
        form.add_error("number", _("No tile has this number. Look at its back again, or log it first."))
        return _page(request, firing, load=form)
    found = [in_words(f) for f in findings_for_body(firing, tile.body)]
    try:
        actions.load_tile(
            by=request.user,
            firing=firing,
            tile=tile,
            position=sent["position"],
            override_reason=sent.get("override_reason", ""),
        )
    except Refused as refused:
        stopped = [f for f in found if f.level == "stop"] if "tile" in refused.problems else []
        told = {"firing": "", "tile": "number"}
        kept = {told.get(f, f): s for f, s in refused.problems.items()}
        if stopped and kept.get("number") == [f.sentence for f in stopped]:
            kept["number"] = [_("This tile was not put in. What stops it stands above.")]
            refuse(form, Refused(kept))
            return _page(request, firing, load=form, stopped=stopped)
        refuse(form, Refused(kept))
        return _page(request, firing, load=form)
    messages.success(request, _("%(tile)s is in.") % {"tile": tile})
    for finding in found:
        if finding.level != "stop":
            messages.warning(request, finding.sentence)
    return redirect(f"{firing.get_absolute_url()}#load")


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


def page_context(request: PersonRequest, firing: Firing) -> dict[str, Any]:
    """What the page shows: steps, cautions, the tiles that the person may see, where they stand and what they saw."""
    seen = Tile.objects.visible_to(request.user)
    inside = firing.tile_firings.filter(tile__in=seen).prefetch_related(Prefetch("tile", seen.for_the_wall()))
    places = {place: order for order, place in enumerate(firing.kiln.positions)}
    rows = sorted(inside, key=lambda row: (places.get(row.position, 99), row.position, row.tile.number))
    states = NEXT[Firing.State(firing.state)] if may(request.user, "firing.change") else set()
    return {
        "firing": firing,
        "steps": [(state, STEPS[state]) for state in ONWARD if state in states],
        "asides": [(state, STEPS[state]) for state in ("planned", "stopped") if state in states],
        "cautions": [sentence for field, sentence in CAUTIONS.items() if getattr(firing.kiln, field)],
        "hung": [(row, hung(row)) for row in rows],
        "hidden": firing.tile_firings.count() - len(rows),
        "overridden": [(row, found) for row in rows if row.override_reason and (found := stops(firing, row))],
        "witness": witness_lines(firing),
    }


def hung(row: TileFiring) -> TileCard:
    """The tile as it stood in this firing: where, and the cone that it saw with what that rests on."""
    seen = TileCone(row.cone, row.cone_basis, row.cone_below)
    cone = cone_words(row.cone) if row.cone else ""
    place = row.position or _("position not noted")
    return replace(
        card(row.tile),
        facts=tuple(fact for fact in (place, cone) if fact),
        note=basis_words(seen) if row.cone_basis else "",
    )


def stops(firing: Firing, row: TileFiring) -> list[str]:
    found = findings_for_body(firing, row.tile.body)
    return [in_words(finding).sentence for finding in found if finding.level == "stop"]


def witness_lines(firing: Firing) -> list[tuple[str, str, str, str]]:
    """Position, cone, type and bend of each witness cone, in words."""
    return [
        (
            cone.position or _("position not noted"),
            cone_words(cone.cone),
            str(cone.get_cone_type_display()),
            _("%(bend)s°") % {"bend": cone.bend_degrees}
            if cone.bend_degrees is not None
            else _("not read yet"),
        )
        for cone in firing.witness_cones.all()
    ]
