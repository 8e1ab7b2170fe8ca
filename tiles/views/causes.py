"""The table of causes: read by everybody, changed by a technician, every version kept."""

from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpResponse, StreamingHttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from studio.errors import Refused, VersionConflict
from studio.exports import csv_answer, csv_lines
from studio.pages import PersonRequest, needs, refuse
from tiles import actions
from tiles.calc.cause_table import cells
from tiles.cause_sentences import source_words
from tiles.causes import FAULTS, causes_in_force, number_of, standard_text, text_of, version_in_force
from tiles.forms.remedy import CausesForm
from tiles.models import CauseTable
from tiles.observed_sentences import OBSERVED, observed_words
from tiles.views.common import with_new_version

PAGE = ["GET", "HEAD", "POST"]
VERSIONS = 20
SENT = ("table", "reason", "version")


@require_safe
@needs("studio.see")
def page(request: PersonRequest) -> HttpResponse:
    causes = causes_in_force()
    groups = []
    for kind, label in FAULTS:
        rows = [
            {
                "cause": cause,
                "evidence": [(observed_words(code, True), f"{weight:+g}") for code, weight in cause.evidence],
                "source": source_words(cause.source, cause.mark),
            }
            for cause in causes
            if cause.fault == kind
        ]
        if rows:
            groups.append((kind, label, rows))
    now = version_in_force()
    context = {
        "groups": groups,
        "opened": request.GET.get("fault", ""),
        "now": now,
        "is_standard": now is None or now.is_standard,
        "versions": CauseTable.objects.select_related("by")[:VERSIONS],
    }
    return render(request, "tiles/causes.html", context)


@require_safe
@needs("studio.see")
def table(request: PersonRequest) -> StreamingHttpResponse:
    """The table in force; `?of=standard` or the id of a version for another."""
    of = request.GET.get("of", "")
    if of == "standard":
        text = standard_text()
    elif of:
        text = text_of(get_object_or_404(CauseTable, pk=_uuid(of)))
    else:
        text = text_of(version_in_force())
    head, *rows = [line for line in cells(text) if any(line)]
    return csv_answer(csv_lines(head, rows, list), "causes.csv")


def _uuid(text: str) -> UUID:
    try:
        return UUID(text)
    except ValueError as error:
        raise Http404 from error


@require_http_methods(PAGE)
@needs("cause.change")
def edit(request: PersonRequest) -> HttpResponse:
    status = 200
    if request.method == "POST":
        form = CausesForm(request.POST, request.FILES)
        if form.is_valid():
            sent = {name: form.cleaned_data[name] for name in SENT}
            try:
                actions.change_causes(by=request.user, **sent)
            except Refused as refused:
                refuse(form, refused)
            except VersionConflict as conflict:
                # Two tables side by side are too long to compare on a page: what was sent stays, theirs is a link.
                form = CausesForm(with_new_version(form.data, conflict))
                form.add_error(None, _faster(conflict.record))
                status = 409
            else:
                messages.success(request, _("This table is in force now. The former ones are kept below."))
                return redirect("tiles:causes")
    else:
        now = version_in_force()
        form = CausesForm(initial={"table": text_of(now), "version": number_of(now)})
    context = {
        "form": form,
        "title": _("Change the table of causes"),
        "button": _("Put it in force"),
        "back": reverse("tiles:causes"),
        "codes": [(code, said[0]) for code, said in OBSERVED.items()],
        "faults": FAULTS,
    }
    return render(request, "tiles/causes_edit.html", context, status=status)


def _faster(now: CauseTable) -> str:
    said = _(
        "While you were writing, %(name)s put another table in force: “%(reason)s”. Yours is not in force; it stands "
        "here still. Download theirs and compare. Sent again, yours takes its place."
    )
    return said % {"name": now.by.name, "reason": now.reason}


@require_POST
@needs("cause.change")
def restore(request: PersonRequest) -> HttpResponse:
    """`version` is the id of a former table, or 'standard'."""
    asked = request.POST.get("version", "")
    version = None if asked == "standard" else get_object_or_404(CauseTable, pk=_uuid(asked))
    try:
        actions.restore_causes(by=request.user, version=version)
    except Refused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, _("The table is put back."))
    return redirect("tiles:causes")
