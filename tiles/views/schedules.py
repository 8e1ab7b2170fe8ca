"""Schedules: what the studio has, each with its drawing, new ones, changes, and putting one away."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from inventory.forms.parts import ArchiveForm
from inventory.views.asking import ask, bound
from inventory.views.listing import listed
from studio.errors import Refused, VersionConflict
from studio.pages import PersonRequest, conflict, needs, refuse
from tiles import actions
from tiles.curves import schedule_curve
from tiles.filters import ScheduleFilter
from tiles.forms.schedule import ScheduleForm, empty_rows, one_more, sent_rows
from tiles.models import Schedule
from tiles.predicting import predict, schedule_said
from tiles.schedule_sentences import segments_words
from tiles.views.curves import curve_context

PAGE = ["GET", "HEAD", "POST"]
OLDEST = ("created_at", "id")


@require_safe
@needs("studio.see")
def listing(request: PersonRequest) -> HttpResponse:
    context = listed(request, ScheduleFilter, Schedule.objects.all(), ordering=OLDEST)
    context["predicted"] = [(schedule, predict(schedule.segments)) for schedule in context["rows"]]
    return render(request, "tiles/schedule_list.html", context)


@require_safe
@needs("studio.see")
def page(request: PersonRequest, pk: Any) -> HttpResponse:
    schedule = get_object_or_404(Schedule, pk=pk)
    prediction = predict(schedule.segments)
    context = {
        "schedule": schedule,
        "prediction": prediction,
        "segments": segments_words(prediction.segments),
        "findings": schedule_said(schedule, prediction),
        **curve_context(request, schedule_curve(prediction)),
    }
    return render(request, "tiles/schedule.html", context)


@require_http_methods(PAGE)
@needs("schedule.change")
def new(request: PersonRequest) -> HttpResponse:
    return _write(request)


@require_http_methods(PAGE)
@needs("schedule.change")
def edit(request: PersonRequest, pk: Any) -> HttpResponse:
    return _write(request, get_object_or_404(Schedule, pk=pk))


@require_http_methods(PAGE)
@needs("schedule.change")
def archive(request: PersonRequest, pk: Any) -> HttpResponse:
    schedule = get_object_or_404(Schedule, pk=pk)

    def act(form: Any) -> str:
        sent = form.cleaned_data
        actions.archive_schedule(
            by=request.user, obj=schedule, version=sent["version"], reason=sent["reason"]
        )
        messages.success(request, _("%(it)s is put away.") % {"it": schedule})
        return reverse("tiles:schedule-list")

    words = {"title": _("Put %(it)s away") % {"it": schedule}, "button": _("Put it away")}
    words["intro"] = _("It leaves the choices. What was planned or fired by it keeps what it took over.")
    form = bound(request, ArchiveForm, initial={"version": schedule.version})
    back = reverse("tiles:schedule", args=[pk])
    return ask(request, form, act, back=back, template="tiles/body_form.html", **words)


def _write(request: PersonRequest, schedule: Schedule | None = None) -> HttpResponse:
    """The form and its rows. `more` comes back with one row more, and keeps nothing yet."""
    if "more" in request.POST:
        return _ask(request, schedule, *one_more(request.POST, schedule))
    form = bound(request, ScheduleForm, instance=schedule)
    if request.method != "POST":
        return _ask(request, schedule, form, empty_rows(schedule.segments if schedule else None))
    rows = sent_rows(request.POST)
    if form.is_valid() and rows.is_valid():
        try:
            return redirect("tiles:schedule", pk=_keep(request, form, rows.rows(), schedule).pk)
        except Refused as refused:
            refuse(form, refused)
        except VersionConflict as error:
            return conflict(request, error, form, back=request.path)
    return _ask(request, schedule, form, rows)


def _keep(request: PersonRequest, form: Any, rows: Any, schedule: Schedule | None) -> Schedule:
    values = {**form.values(), "segments": rows}
    if schedule is None:
        return actions.create_schedule(by=request.user, **values)
    version = form.cleaned_data["version"]
    return actions.change_schedule(by=request.user, obj=schedule, values=values, version=version)


def _ask(request: PersonRequest, schedule: Schedule | None, form: Any, rows: Any) -> HttpResponse:
    back = reverse("tiles:schedule", args=[schedule.pk]) if schedule else reverse("tiles:schedule-list")
    context = {"form": form, "rows": rows, "schedule": schedule, "back": back}
    return render(request, "tiles/schedule_form.html", context)
