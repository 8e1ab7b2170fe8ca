"""Firings: the list and the plan."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.db.models import Count
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from studio.errors import Refused, VersionConflict
from studio.filtering import filtered, named
from studio.pages import PersonRequest, conflict, needs, refuse
from studio.paging import page_of
from tiles import actions
from tiles.filters import FiringFilter
from tiles.forms.firing import FiringForm
from tiles.models import Firing, Schedule
from tiles.views.looks import due_counts

PAGE = ["GET", "HEAD", "POST"]
NEWEST = ("-number",)


def find(number: int) -> Firing:
    return get_object_or_404(Firing.objects.select_related("kiln"), number=number)


@require_safe
@needs("studio.see")
def listing(request: PersonRequest) -> HttpResponse:
    firings = Firing.objects.select_related("kiln").annotate(tile_count=Count("tile_firings", distinct=True))
    filterset, rows, problems = filtered(FiringFilter, request.GET, firings, request)
    found: list[Firing] = []
    previous_url = next_url = None
    if not problems:
        try:
            found, previous_url, next_url = page_of(request, rows, ordering=NEWEST)
        except Refused as refused:
            problems = refused.problems
    context = {
        "form": filterset.form,
        "looks_due": due_counts(request.user),
        "problems": named(filterset.form, problems),
        "firings": found,
        "is_filtered": any(filterset.form.data.values()),
        "previous_url": previous_url,
        "next_url": next_url,
    }
    return render(request, "tiles/firing_list.html", context)


@require_http_methods(PAGE)
@needs("firing.change")
def new(request: PersonRequest) -> HttpResponse:
    form = FiringForm(request.POST or None, initial=with_schedule(request.GET.get("schedule", "")))
    if request.method == "POST" and form.is_valid():
        try:
            return redirect(actions.plan_firing(by=request.user, **form.values()))
        except Refused as refused:
            refuse(form, refused)
    return render(request, "tiles/firing_form.html", {"form": form})


def with_schedule(key: str) -> dict[str, Any]:
    """What the form begins with when somebody comes from a schedule."""
    try:
        schedule = Schedule.objects.filter(pk=UUID(key), archived_at=None).first()
    except ValueError:
        schedule = None
    if schedule is None:
        return {}
    return {"plan_from": schedule.pk, "kind": schedule.kind, "target_cone": schedule.target_cone}


@require_http_methods(PAGE)
@needs("firing.change")
def edit(request: PersonRequest, number: int) -> HttpResponse:
    firing = find(number)
    form = FiringForm(request.POST or None, firing=firing)
    if request.method == "POST" and form.is_valid():
        try:
            actions.change_firing(
                by=request.user, obj=firing, values=form.values(), version=form.cleaned_data["version"]
            )
            messages.success(request, _("Changed."))
            return redirect(firing)
        except Refused as refused:
            refuse(form, refused)
        except VersionConflict as error:
            return conflict(request, error, form, back=request.path)
    return render(request, "tiles/firing_form.html", {"form": form, "firing": firing})
