"""The table of causes: read by everybody, changed by a technician, every version kept."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpResponse, StreamingHttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from inventory.views.asking import ask
from studio.errors import Refused
from studio.exports import csv_answer, csv_lines
from studio.pages import PersonRequest, needs
from tiles import actions
from tiles.calc.cause_table import cells
from tiles.cause_sentences import source_words
from tiles.causes import causes_in_force, standard_text, text_of, version_in_force
from tiles.forms.remedy import CausesForm
from tiles.models import CauseTable, OutcomeFault
from tiles.observed_sentences import OBSERVED, observed_words

PAGE = ["GET", "HEAD", "POST"]
VERSIONS = 20


@require_safe
@needs("studio.see")
def page(request: PersonRequest) -> HttpResponse:
    causes = causes_in_force()
    groups = []
    for kind, label in OutcomeFault.Kind.choices:
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
    def act(form: Any) -> str:
        sent = form.cleaned_data
        actions.change_causes(by=request.user, table=sent["table"], reason=sent["reason"])
        messages.success(request, _("This table is in force now. The former ones are kept below."))
        return reverse("tiles:causes")

    if request.method == "POST":
        form = CausesForm(request.POST, request.FILES)
    else:
        form = CausesForm(initial={"table": text_of(version_in_force())})
    words = {"title": _("Change the table of causes"), "button": _("Put it in force")}
    codes = [(code, said[0]) for code, said in OBSERVED.items()]
    back = reverse("tiles:causes")
    return ask(
        request,
        form,
        act,
        back=back,
        template="tiles/causes_edit.html",
        codes=codes,
        faults=OutcomeFault.Kind.choices,
        **words,
    )


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
