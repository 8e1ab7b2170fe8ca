"""Marking all tiles of a flag in one step, and taking the step back."""

import uuid
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods, require_POST

from inventory.models import Flag
from studio.errors import Refused
from studio.pages import PersonRequest, needs, refuse
from tiles.actions import mark_touched, undo_marks
from tiles.forms.marks import SinceForm, UndoForm
from tiles.panels import marked_in, touched_in
from tiles.touching import touched_layers


def _flag(request: PersonRequest, pk: uuid.UUID) -> Flag:
    return get_object_or_404(Flag.objects.visible_to(request.user).with_story(), pk=pk)


@require_http_methods(["GET", "HEAD", "POST"])
@needs("mark.set")
def page(request: PersonRequest, pk: uuid.UUID) -> HttpResponse:
    """What used the bucket since a day that can be chosen, and the one press that marks its tiles."""
    flag = _flag(request, pk)
    form = SinceForm(request.POST if request.method == "POST" else request.GET)
    since = form.moment() if form.is_valid() else None
    if request.method == "POST" and form.is_valid():
        try:
            marks = mark_touched(by=request.user, flag=flag, since=since)
        except Refused as refused:
            refuse(form, refused)
        else:
            done = ngettext("%(count)s tile is marked.", "%(count)s tiles are marked.", len(marks))
            messages.success(request, done % {"count": len(marks)})
            return redirect(f"{flag.get_absolute_url()}#marks")
    layers = touched_layers(flag, since)
    context: dict[str, Any] = {
        "flag": flag,
        "form": form,
        "since": since or flag.since,
        **touched_in(request.user, flag, layers, whole=True),
        **marked_in(request.user, flag, layers),
    }
    return render(request, "tiles/flag_marks.html", context)


@require_POST
@needs("mark.set")
def undo(request: PersonRequest, pk: uuid.UUID) -> HttpResponse:
    """One press takes back what one press marked."""
    flag, form = _flag(request, pk), UndoForm(request.POST)
    if form.is_valid():
        try:
            marks = undo_marks(by=request.user, flag=flag, batch=form.cleaned_data["batch"])
        except Refused as refused:
            messages.error(request, str(refused))
        else:
            done = ngettext("%(count)s mark is taken back.", "%(count)s marks are taken back.", len(marks))
            messages.success(request, done % {"count": len(marks)})
    return redirect(f"{flag.get_absolute_url()}#marks")
