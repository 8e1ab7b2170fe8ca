"""The register: every fill in use, for the folder, and as a table."""

from django.http import HttpResponse, StreamingHttpResponse
from django.shortcuts import render
from django.utils.http import urlencode
from django.views.decorators.http import require_safe

from inventory.filters import RegisterFilter
from inventory.hazards import silica_note
from inventory.register import COLUMNS, cells, register_fills, register_rows
from inventory.views.asking import MemberRequest
from studio.exports import csv_answer, csv_lines, csv_refused
from studio.filtering import filtered, named
from studio.pages import needs
from studio.roles import may


@require_safe
@needs("studio.see")
def register(request: MemberRequest) -> HttpResponse:
    """All rows on one page, because it is printed."""
    filterset, fills, problems = filtered(RegisterFilter, request.GET, register_fills(request.user), request)
    context = {
        "filter": filterset,
        "problems": named(filterset.form, problems),
        "rows": register_rows(fills, request.user),
        "silica": silica_note(),
        "buys": may(request.user, "fill.change"),
        "asked": any(request.GET.values()),
        "query": urlencode([(k, str(v)) for k, v in request.GET.items() if v]),
    }
    return render(request, "inventory/register.html", context)


@require_safe
@needs("studio.see")
def table(request: MemberRequest) -> HttpResponse | StreamingHttpResponse:
    """The rows of the same question as CSV."""
    _filterset, fills, problems = filtered(RegisterFilter, request.GET, register_fills(request.user), request)
    if problems:
        return csv_refused(problems)
    # Now, while the reader's units and time zone hold: the lines are sent later.
    rows = register_rows(fills, request.user)
    return csv_answer(csv_lines(COLUMNS, rows, cells), "register.csv")
