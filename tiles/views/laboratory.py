"""Laboratory reports: the list, one with what it says, writing it down, withdrawing it, and its file."""

import uuid
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse, HttpResponseBase
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from inventory.views.asking import ask
from inventory.views.listing import listed
from studio.pages import PersonRequest, needs
from studio.papers import paper_answer
from tiles.actions.laboratory import change_report, create_report, withdraw_report
from tiles.filters_laboratory import ReportFilter
from tiles.forms.laboratory import MORE_ROWS, ReportForm, WithdrawForm
from tiles.laboratory import earlier_files
from tiles.laboratory_pages import report_context, report_row
from tiles.models import LabReport

PAGE = ["GET", "HEAD", "POST"]
NEWEST = ("-tested_on", "-created_at", "-id")


def report_for(request: PersonRequest, pk: uuid.UUID) -> LabReport:
    found = LabReport.objects.visible_to(request.user).with_parts().filter(pk=pk).first()
    if found is None:
        raise Http404
    return found


@require_safe
@needs("studio.see")
def reports(request: PersonRequest) -> HttpResponse:
    data = request.GET.copy()
    data.setdefault("withdrawn", "false")
    rows = LabReport.objects.visible_to(request.user).with_parts()
    context = listed(request, ReportFilter, rows, ordering=NEWEST, data=data)
    context["rows"] = [report_row(report) for report in context["rows"]]
    return render(request, "tiles/report_list.html", context)


@require_safe
@needs("studio.see")
def page(request: PersonRequest, pk: uuid.UUID) -> HttpResponse:
    return render(request, "tiles/report.html", report_context(report_for(request, pk)))


@require_safe
@needs("studio.see")
def file(request: PersonRequest, pk: uuid.UUID) -> HttpResponseBase:
    report = report_for(request, pk)
    return paper_answer(report.file_key, report.file_name)


@require_safe
@needs("studio.see")
def earlier_file(request: PersonRequest, pk: uuid.UUID, key: str) -> HttpResponseBase:
    """One in whose place another was sent."""
    for earlier in earlier_files(report_for(request, pk)):
        if earlier.key == key:
            return paper_answer(earlier.key, earlier.name)
    raise Http404


@require_http_methods(PAGE)
@needs("laboratory.note")
def new(request: PersonRequest) -> HttpResponse:
    def act(form: Any) -> str:
        made = create_report(by=request.user, **form.values())
        messages.success(request, _("The report is kept."))
        return made.get_absolute_url()

    words = {"title": _("A laboratory report"), "button": _("Keep the report")}
    return _asked(request, None, act, reverse("tiles:report-list"), words)


@require_http_methods(PAGE)
@needs("laboratory.note")
def edit(request: PersonRequest, pk: uuid.UUID) -> HttpResponse:
    report = report_for(request, pk)

    def act(form: Any) -> str:
        version = form.cleaned_data["version"]
        change_report(by=request.user, obj=report, values=form.values(), version=version)
        messages.success(request, _("It is changed."))
        return report.get_absolute_url()

    words = {"title": _("Change the report"), "button": _("Keep")}
    return _asked(request, report, act, report.get_absolute_url(), words)


def _asked(request: PersonRequest, report: LabReport | None, act: Any, back: str, words: Any) -> HttpResponse:
    how: dict[str, Any] = {"person": request.user, "report": report}
    if request.method == "POST" and "more" not in request.POST:
        form = ReportForm(request.POST, request.FILES, **how)
    elif request.method == "POST":
        # Only more rows were asked for: what is typed so far is neither judged nor lost.
        form = ReportForm(initial=request.POST.dict(), more=MORE_ROWS, **how)
    else:
        form = ReportForm(initial={"tile": request.GET["tile"]} if "tile" in request.GET else {}, **how)
    if not form.is_bound and request.method == "POST":
        return render(request, "tiles/report_form.html", {"form": form, "back": back, **words})
    return ask(request, form, act, back=back, template="tiles/report_form.html", **words)


@require_http_methods(PAGE)
@needs("laboratory.note")
def withdraw(request: PersonRequest, pk: uuid.UUID) -> HttpResponse:
    report = report_for(request, pk)

    def act(form: Any) -> str:
        sent = form.cleaned_data
        withdraw_report(by=request.user, obj=report, reason=sent["reason"], version=sent["version"])
        messages.success(request, _("It is withdrawn and counts no more. It can still be read."))
        return report.get_absolute_url()

    form = WithdrawForm(request.POST or None, initial={"version": report.version})
    words = {"title": _("Withdraw the report"), "button": _("Withdraw it")}
    words["intro"] = _("For a report that was written down by mistake, or that the laboratory took back.")
    return ask(request, form, act, back=report.get_absolute_url(), **words)
