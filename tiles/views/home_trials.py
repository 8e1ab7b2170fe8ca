"""Trials at home on a fired tile: begun, ended, photographed, taken back."""

import uuid
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseBase
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from inventory.views.asking import ask, bound
from studio.pages import PersonRequest, needs
from studio.photo_answers import sized_answer
from tiles.actions.home_trials import (
    add_trial_photo,
    archive_trial_photo,
    begin_trial,
    end_trial,
    take_trial_back,
)
from tiles.forms.home_trial import BeginForm, EndForm, TakeBackForm, TrialPhotoForm
from tiles.laboratory_sentences import SCREEN
from tiles.models import HomeTrial, HomeTrialPhoto, Tile
from tiles.views.common import tile_for

PAGE = ["GET", "HEAD", "POST"]
TEMPLATE = "tiles/home_trial_form.html"


def trial_for(request: PersonRequest, pk: uuid.UUID) -> HomeTrial:
    found = HomeTrial.objects.visible_to(request.user).select_related("tile").filter(pk=pk).first()
    if found is None:
        raise Http404
    return found


def photo_for(request: PersonRequest, pk: uuid.UUID) -> HomeTrialPhoto:
    seen = HomeTrialPhoto.objects.filter(
        trial__in=HomeTrial.objects.visible_to(request.user), archived_at=None
    )
    found = seen.select_related("trial__tile").filter(pk=pk).first()
    if found is None:
        raise Http404
    return found


def _there(tile: Tile) -> str:
    return f"{tile.get_absolute_url()}#laboratory"


def _ask(request: PersonRequest, form: Any, act: Any, tile: Tile, **words: Any) -> HttpResponse:
    def then(form: Any) -> str:
        messages.success(request, act(form))
        return _there(tile)

    return ask(request, form, then, back=_there(tile), template=TEMPLATE, tile=tile, screen=SCREEN, **words)


@require_http_methods(PAGE)
@needs("home_trial.note")
def begin(request: PersonRequest, number: str) -> HttpResponse:
    tile = tile_for(request, number)

    def act(form: Any) -> str:
        begin_trial(by=request.user, tile=tile, before=form.files_sent(), **form.values())
        return _("The trial is noted. Say here what came of it when it is over.")

    words = {"title": _("A trial at home with %(tile)s") % {"tile": tile}, "button": _("Begin it")}
    return _ask(request, bound(request, BeginForm), act, tile, **words)


@require_http_methods(PAGE)
@needs("home_trial.note")
def end(request: PersonRequest, pk: uuid.UUID) -> HttpResponse:
    trial = trial_for(request, pk)

    def act(form: Any) -> str:
        end_trial(by=request.user, trial=trial, after=form.files_sent(), **form.values())
        return _("What came of it is kept.")

    words = {"title": _("What came of the %(trial)s") % {"trial": trial}, "button": _("Keep")}
    return _ask(request, bound(request, EndForm), act, trial.tile, trial=trial, **words)


@require_http_methods(PAGE)
@needs("home_trial.note")
def add_photo(request: PersonRequest, pk: uuid.UUID) -> HttpResponse:
    trial = trial_for(request, pk)

    def act(form: Any) -> str:
        sent = form.cleaned_data
        add_trial_photo(by=request.user, trial=trial, file=sent["photo"], stage=sent["stage"])
        return _("The photo is kept.")

    words = {"title": _("A photo of the %(trial)s") % {"trial": trial}, "button": _("Keep the photo")}
    return _ask(request, bound(request, TrialPhotoForm), act, trial.tile, trial=trial, **words)


@require_http_methods(PAGE)
@needs("home_trial.note")
def take_back(request: PersonRequest, pk: uuid.UUID) -> HttpResponse:
    trial = trial_for(request, pk)

    def act(form: Any) -> str:
        take_trial_back(by=request.user, trial=trial, reason=form.cleaned_data["reason"])
        return _("It is taken back. The tile's history keeps it.")

    words = {"title": _("Take back the %(trial)s") % {"trial": trial}, "button": _("Take it back")}
    return _ask(request, bound(request, TakeBackForm), act, trial.tile, trial=trial, **words)


@require_safe
@needs("studio.see")
def sized(request: PersonRequest, photo: uuid.UUID, size: str) -> HttpResponseBase:
    return sized_answer(request, photo_for(request, photo).key, size)


@require_POST
@needs("home_trial.note")
def archive(request: PersonRequest, photo: uuid.UUID) -> HttpResponse:
    found = photo_for(request, photo)
    archive_trial_photo(by=request.user, photo=found, reason=request.POST.get("reason", ""))
    messages.success(request, _("The photo is off the page. Its file is kept."))
    return redirect(_there(found.trial.tile))
