"""Why a tile has a fault, and the trials that would find out."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from inventory.forms.parts import ArchiveForm
from inventory.views.asking import ask
from studio.errors import Refused
from studio.pages import PersonRequest, needs
from tiles import actions
from tiles.actions.causes import may_tell
from tiles.calc.causes import OBSERVATIONS
from tiles.cards import card
from tiles.causes import faults_of, why
from tiles.forms.remedy import PlanForm, RemedyForm
from tiles.models import OutcomeFault, RemedyTrial, Tile
from tiles.views.common import tile_for

PAGE = ["GET", "HEAD", "POST"]
SHOWN = 3  # causes before the fold


@require_safe
@needs("studio.see")
def page(request: PersonRequest, number: str) -> HttpResponse:
    """`fault` is one that was noted on the tile; `yes` and `no` are observations that the person answers here."""
    tile = tile_for(request, number, Tile.objects.for_the_wall())
    faults = faults_of(tile)
    asked = request.GET.get("fault", faults[0]) if faults else ""
    if faults and asked not in faults:
        raise Http404
    answers = {code: name == "yes" for name in ("no", "yes") for code in request.GET.getlist(name)}
    found = why(tile, asked, request.user, _known(answers)) if asked else None
    trials = RemedyTrial.objects.visible_to(request.user).filter(tile=tile, dropped_at=None)
    context = {
        "tile": tile,
        "card": card(tile),
        "faults": [(kind, OutcomeFault.Kind(kind).label) for kind in faults],
        "fault": asked,
        "fault_words": OutcomeFault.Kind(asked).label if asked else "",
        "why": found,
        "first": found.causes[:SHOWN] if found else [],
        "others": found.causes[SHOWN:] if found else [],
        "trials": [
            (trial, may_tell(request.user, trial)) for trial in trials.select_related("new_tile", "by")
        ],
    }
    return render(request, "tiles/why.html", context)


def _known(answers: dict[str, bool]) -> dict[str, bool]:
    return {code: is_so for code, is_so in answers.items() if code in OBSERVATIONS}


@require_POST
@needs("remedy.plan")
def plan(request: PersonRequest, number: str) -> HttpResponse:
    """One tap: the trial stands, with a number for its tile if one is wanted."""
    tile, form = tile_for(request, number), PlanForm(request.POST)
    if not form.is_valid():
        messages.error(
            request, _("This trial cannot be planned as it stands. Choose one of the causes below.")
        )
        return redirect("tiles:why", number=tile.number)
    try:
        trial = actions.plan_remedy(by=request.user, tile=tile, **form.cleaned_data)
    except Refused as refused:
        messages.error(request, str(refused))
        return redirect("tiles:why", number=tile.number)
    if trial.new_tile is None:
        messages.success(
            request, _("The trial is planned. Say here on which tile it is tried, once it is made.")
        )
        return redirect(f"{reverse('tiles:why', args=[tile.number])}?fault={trial.fault}#trials")
    said = {"number": trial.new_tile.number, "change": trial.change}
    messages.success(request, _("The trial is planned. Write %(number)s on the new tile: %(change)s.") % said)
    # The page "same as, but ..." asks for the one change.
    return redirect(f"{reverse('tiles:tile-repeat', args=[trial.new_tile.number])}?as={tile.number}")


@require_http_methods(PAGE)
@needs("remedy.plan")
def remedy(request: PersonRequest, pk: Any) -> HttpResponse:
    """On which tile it is tried, and whether it helped."""
    trial = _trial(request, pk)
    back = _back(trial)

    def act(form: Any) -> str:
        sent = form.cleaned_data["version"]
        actions.change_remedy(by=request.user, obj=trial, values=form.values(), version=sent)
        messages.success(
            request, _("It is noted. Trials that helped, or did not, move what is thought likely.")
        )
        return back

    data = request.POST if request.method == "POST" else None
    form = RemedyForm(data, trial=trial, person=request.user)
    words = {"title": trial.change, "button": _("Keep"), "away": reverse("tiles:remedy-drop", args=[pk])}
    both = {trial.tile_id, trial.new_tile_id}
    seen = Tile.objects.for_the_wall().visible_to(request.user).filter(pk__in=both).order_by("created_at")
    cards = [card(one) for one in seen]
    return ask(request, form, act, back=back, template="tiles/remedy.html", trial=trial, cards=cards, **words)


@require_http_methods(PAGE)
@needs("remedy.plan")
def drop(request: PersonRequest, pk: Any) -> HttpResponse:
    trial = _trial(request, pk)

    def act(form: Any) -> str:
        sent = form.cleaned_data
        actions.drop_remedy(by=request.user, obj=trial, version=sent["version"], reason=sent["reason"])
        messages.success(request, _("The trial is dropped. It counts no more."))
        return _back(trial)

    data = request.POST if request.method == "POST" else None
    form = ArchiveForm(data, initial={"version": trial.version})
    words = {"title": _("Drop this trial"), "button": _("Drop it")}
    return ask(request, form, act, back=_back(trial), template="tiles/remedy.html", trial=trial, **words)


def _trial(request: PersonRequest, pk: Any) -> RemedyTrial:
    rows = RemedyTrial.objects.visible_to(request.user).select_related("tile", "new_tile")
    return get_object_or_404(rows, pk=pk)


def _back(trial: RemedyTrial) -> str:
    page = reverse("tiles:why", args=[trial.tile.number])
    # The look that noted its fault may have been taken back: then the page knows no such fault.
    return f"{page}?fault={trial.fault}" if trial.fault in faults_of(trial.tile) else page
