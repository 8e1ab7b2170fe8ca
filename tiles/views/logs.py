"""The log of a firing: sent as a file, looked at before it is kept, taken back, and had as a table."""

import uuid
from typing import Any

from django.contrib import messages
from django.http import HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from studio.errors import Refused, VersionConflict
from studio.exports import csv_answer
from studio.pages import PersonRequest, conflict, needs, refuse
from tiles.actions.log_drafts import (
    begin_draft,
    change_draft,
    draft_of,
    drop_draft,
    keep_draft,
    may_have_a_log,
    read_draft,
)
from tiles.actions.logs import take_log_back
from tiles.calc.log_table import cells_of, lines_of
from tiles.forms.logs import LogBackForm, LogFileForm, LogGuessForm
from tiles.log_drawing import sketch
from tiles.log_exports import log_lines
from tiles.log_panel import log_facts
from tiles.log_sentences import marks_in_words
from tiles.logs import Readings, log_of, readings_of, reckoned, unpacked
from tiles.models import FiringLog, LogDraft, LogTakenBack
from tiles.views.firings import PAGE, find

ROWS_SHOWN = 6


@require_http_methods(PAGE)
@needs("firing.log")
def send(request: PersonRequest, number: int) -> HttpResponse:
    """A file is chosen here; it is kept as a draft only."""
    firing = find(number)
    form = LogFileForm(request.POST or None, request.FILES or None)
    problems: list[str] = []
    try:
        may_have_a_log(firing)
        if request.method == "POST" and form.is_valid():
            begin_draft(by=request.user, firing=firing, file=form.cleaned_data["file"])
            return redirect("tiles:firing-log-read", number=number)
    except Refused as refused:
        if request.method == "POST" and form.is_bound:
            refuse(form, refused)
        else:
            problems = [s for sentences in refused.problems.values() for s in sentences]
    context = {"firing": firing, "form": form, "problems": problems}
    context["draft"] = draft_of(request.user, firing)
    return render(request, "tiles/log_send.html", context)


@require_http_methods(PAGE)
@needs("firing.log")
def read(request: PersonRequest, number: int) -> HttpResponse:
    """How the file is read, with every guess to be told otherwise; `keep` makes it the firing's log."""
    firing = find(number)
    draft = draft_of(request.user, firing)
    if draft is None:
        messages.info(request, _("There is no file of yours waiting here. Choose it once more."))
        return redirect("tiles:firing-log", number=number)
    if "drop" in request.POST:
        drop_draft(by=request.user, draft=draft)
        messages.success(request, _("The file is thrown away; nothing of it was kept."))
        return redirect("tiles:firing-log", number=number)
    form, context = _shown(request, draft)
    if request.method == "POST" and form.is_valid():
        try:
            change_draft(by=request.user, draft=draft, values=form.values())
            if "keep" not in request.POST or form.reads_otherwise:
                if "keep" in request.POST:
                    messages.info(request, _("It is read anew as you said. Keep it if it is right now."))
                return redirect("tiles:firing-log-read", number=number)
            log = keep_draft(by=request.user, draft=draft)
        except Refused as refused:
            refuse(form, refused)
        else:
            messages.success(request, _("%(count)s readings are kept.") % {"count": log.count})
            return redirect(firing)
    return render(request, "tiles/log_read.html", {"firing": firing, "draft": draft, "form": form, **context})


def _shown(request: PersonRequest, draft: LogDraft) -> tuple[LogGuessForm, dict[str, Any]]:
    found = read_draft(draft)
    how, log = found.how, found.log
    first = cells_of(lines_of(found.text)[how.skip : how.skip + ROWS_SHOWN], how.delimiter)
    form = LogGuessForm(
        request.POST or None,
        initial={**how.plain(), "begins_at": found.begins_at},
        how=how,
        first_row=first[0] if first else [],
        resets=log.resets if log else 0,
    )
    context: dict[str, Any] = {
        "problem": found.problem,
        "header": how.header,
        "rows": first,
        "chosen": {how.time: _("time"), how.temperature: _("temperature")},
        "columns": [_told(how, i) for i in range(how.columns)],
    }
    if log is not None:
        readings = Readings(log.seconds, log.celsius, found.begins_at, log.marks)
        shown = FiringLog(begins_at=found.begins_at, **reckoned(readings))
        context |= {
            "facts": log_facts(shown),
            "sketch": sketch(log.seconds, log.celsius),
            "marks": marks_in_words(log.marks, found.begins_at),
            "resets": log.resets,
        }
    return form, context


def _told(how: Any, index: int) -> str:
    """What a column is taken for, to stand over it."""
    taken = {
        how.time: _("time"),
        how.temperature: _("temperature"),
        how.day: _("date"),
        how.target: _("target"),
    }
    return str(taken.get(index, ""))


@require_http_methods(PAGE)
@needs("firing.change")
def back(request: PersonRequest, number: int) -> HttpResponse:
    """What taking the log back does, and why it is done."""
    firing = find(number)
    log = log_of(firing)
    if log is None:
        messages.error(request, _("This firing has no log to take back."))
        return redirect(firing)
    form = LogBackForm(request.POST or None, initial={"version": firing.version})
    if request.method == "POST" and form.is_valid():
        try:
            take_log_back(by=request.user, firing=firing, **form.cleaned_data)
            messages.success(request, _("The log is taken back; its readings are kept beside the firing."))
            return redirect(firing)
        except Refused as refused:
            refuse(form, refused)
        except VersionConflict as error:
            return conflict(request, error, form, back=firing.get_absolute_url())
    return render(request, "tiles/log_back.html", {"firing": firing, "log": log, "form": form})


@require_safe
@needs("studio.see")
def export(request: PersonRequest, number: int) -> HttpResponseBase:
    """Every reading as a table for a spreadsheet."""
    firing = find(number)
    readings = readings_of(firing)
    if readings is None:
        messages.error(request, _("This firing has no log yet."))
        return redirect(firing)
    return csv_answer(log_lines(readings), f"firing-{firing.number}-log.csv")


@require_safe
@needs("studio.see")
def taken(request: PersonRequest, number: int, log: uuid.UUID) -> HttpResponseBase:
    """A log that was taken back, as a table."""
    firing = find(number)
    found = get_object_or_404(LogTakenBack, pk=log, firing=firing)
    return csv_answer(log_lines(unpacked(found, firing)), f"firing-{firing.number}-log-taken-back.csv")
