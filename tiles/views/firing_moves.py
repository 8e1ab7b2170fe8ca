"""Taking a firing on to its next state, and one step back."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from studio.errors import Refused, VersionConflict
from studio.pages import PersonRequest, conflict, needs, refuse
from tiles import actions
from tiles.actions.moving import NEXT
from tiles.actions.stepping_back import step_back_of
from tiles.actions.stops import open_stops
from tiles.forms.moving import BackForm, MoveForm
from tiles.loads import pieces_in
from tiles.models import Firing
from tiles.views.firing_kiln import cooling_said
from tiles.views.firing_page import ASKED, STEPS, show
from tiles.views.firings import PAGE, find


@require_http_methods(PAGE)
@needs("firing.change")
def move(request: PersonRequest, number: int) -> HttpResponse:
    """GET asks once more, and says what follows; POST writes it down."""
    firing = find(number)
    if request.method != "POST":
        state = request.GET.get("state", "")
        if state not in NEXT[Firing.State(firing.state)]:
            return redirect(firing)
        return _ask(request, firing, MoveForm(initial={"state": state, "version": firing.version}), state)
    form = MoveForm(request.POST)
    if form.is_valid():
        try:
            sent = {name: value for name, value in form.cleaned_data.items() if value not in (None, "")}
            actions.move_firing(by=request.user, firing=firing, **sent)
            begun = sent["state"] == Firing.State.LOADING
            return redirect("tiles:firing-load", number=firing.number) if begun else redirect(firing)
        except Refused as refused:
            refuse(form, refused)
        except VersionConflict as error:
            return conflict(request, error, form, back=firing.get_absolute_url())
    firing.refresh_from_db()
    state = request.POST.get("state", "")
    if state in NEXT[Firing.State(firing.state)]:
        return _ask(request, firing, form, state)
    return show(request, firing, moving=form)


def _ask(request: PersonRequest, firing: Firing, form: MoveForm, state: str) -> HttpResponse:
    """What a step would do, before it is done."""
    context: dict[str, Any] = {
        "firing": firing,
        "form": form,
        "state": state,
        "words": STEPS[state],
        "tiles": firing.tile_firings.count(),
        "pieces": sum(piece.count for piece in pieces_in(firing)),
        "stopped": open_stops(firing) if state == "firing" else [],
        "is_asked": state in ASKED,
        "cooling": cooling_said(firing) if state == Firing.State.UNLOADED else None,
    }
    return render(request, "tiles/firing_move.html", context)


@require_http_methods(PAGE)
@needs("firing.change")
def back(request: PersonRequest, number: int) -> HttpResponse:
    """One step back: says what will follow, and asks why."""
    firing = find(number)
    step = step_back_of(firing)
    if step is None:
        messages.error(request, _("There is no step to take back."))
        return redirect(firing)
    form = BackForm(request.POST or None, initial={"version": firing.version})
    if request.method == "POST" and form.is_valid():
        try:
            actions.step_back(by=request.user, firing=firing, **form.cleaned_data)
            messages.success(
                request,
                _("%(firing)s is %(state)s again.") % {"firing": firing, "state": firing.get_state_display()},
            )
            return redirect(firing)
        except Refused as refused:
            refuse(form, refused)
        except VersionConflict as error:
            return conflict(request, error, form, back=firing.get_absolute_url())
    context = {
        "firing": firing,
        "form": form,
        "step": step,
        "to": Firing.State(step.state).label,
        "goes": [(tile, tile.State(state).label) for tile, state in step.tiles],
    }
    return render(request, "tiles/firing_back.html", context)
