"""How it came out: one look, with a photo if there is one. Either both are kept or neither."""

from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from inventory.views.asking import ask
from studio.errors import Refused, VersionConflict
from studio.pages import PersonRequest, needs, refuse
from tiles.actions import add_photo, prepare_photo, record_outcome, take_look_back
from tiles.cards import card, stack_layers
from tiles.forms.outcome import OutcomeForm, ReasonForm
from tiles.models import Outcome, Tile
from tiles.views.common import tile_for, with_new_version


@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def look(request: PersonRequest, number: str) -> HttpResponse:
    tile = tile_for(request, number, Tile.objects.for_the_wall())
    form = OutcomeForm(request.POST or None, request.FILES or None, tile=tile)
    status = 200
    if form.is_bound and not form.is_valid():
        form.choose_again()
    elif form.is_bound:
        try:
            _keep(request, tile, form)
        except Refused as refused:
            if "photo" in refused.problems:
                name = form.chosen_photo.name if form.chosen_photo else ""
                form.add_error(
                    None, _("Nothing is saved yet, because of the photo “%(name)s”.") % {"name": name}
                )
            else:
                form.choose_again()
            refuse(form, refused)
        except VersionConflict as conflict:
            form = OutcomeForm(with_new_version(request.POST, conflict), request.FILES, tile=tile)
            form.add_error(None, str(conflict))
            form.choose_again()
            status = 409
        else:
            messages.success(request, _("Your look at it is kept."))
            return redirect("tile", number=tile.number)
    context = {
        "tile": tile,
        "form": form,
        "card": card(tile),
        "stack_layers": stack_layers(tile),
        "looks": tile.outcomes.count(),
    }
    return render(request, "tiles/outcome.html", context, status=status)


def _keep(request: PersonRequest, tile: Tile, form: OutcomeForm) -> None:
    """The photo is prepared before anything is locked, because that takes its time."""
    chosen = form.chosen_photo
    prepared = prepare_photo(chosen) if chosen is not None else None
    with transaction.atomic():
        outcome = record_outcome(by=request.user, tile=tile, **form.look())
        if prepared is not None:
            caption = form.cleaned_data["caption"]
            add_photo(by=request.user, tile=tile, file=prepared, caption=caption, outcome=outcome)


@require_http_methods(["GET", "HEAD", "POST"])
@needs("tile.log")
def take_back(request: PersonRequest, look: Any) -> HttpResponse:
    """It was a mistake: asked for once more, with the reason."""
    seen = Tile.objects.visible_to(request.user).order_by()
    rows = Outcome.with_taken_back.filter(tile__in=seen).select_related("tile", "by", "firing", "combination")
    outcome = get_object_or_404(rows, pk=look)
    tile = outcome.tile
    if outcome.taken_back_at:
        messages.info(request, _("This look was taken back already."))
        return redirect(tile)

    def act(form: Any) -> Any:
        take_look_back(by=request.user, outcome=outcome, reason=form.cleaned_data["reason"])
        messages.success(request, _("The look is taken back. It counts for nothing any more."))
        return tile

    form = ReasonForm(request.POST if request.method == "POST" else None)
    words = {"title": _("This look was a mistake"), "button": _("Take it back")}
    return ask(
        request,
        form,
        act,
        back=tile.get_absolute_url(),
        template="tiles/look_back.html",
        look=outcome,
        **words,
    )
