"""Events of a firing: what happened while the kiln was hot."""

import uuid

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from studio.errors import Refused
from studio.pages import PersonRequest, needs, refuse
from tiles.actions.events import add_event, take_event_back
from tiles.forms.logs import EventForm
from tiles.models import FiringEvent
from tiles.views.firing_page import show
from tiles.views.firings import find


@require_POST
@needs("firing.log")
def add(request: PersonRequest, number: int) -> HttpResponse:
    firing = find(number)
    form = EventForm(request.POST, prefix="event")
    if form.is_valid():
        try:
            add_event(by=request.user, firing=firing, **form.cleaned_data)
            messages.success(request, _("Noted."))
            return redirect(firing)
        except Refused as refused:
            refuse(form, refused)
    return show(request, firing, event_form=form)


@require_POST
@needs("firing.log")
def away(request: PersonRequest, number: int, event: uuid.UUID) -> HttpResponse:
    """It did not happen, or not so."""
    firing = find(number)
    take_event_back(by=request.user, event=get_object_or_404(FiringEvent, pk=event, firing=firing))
    messages.success(request, _("The event is taken back; the history keeps it."))
    return redirect(firing)
