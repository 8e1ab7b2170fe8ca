"""What was done, by whom and why: of the whole studio, or of one record."""

from collections.abc import Collection
from typing import Any
from uuid import UUID

from django.db.models import QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from studio import registry
from studio.errors import Refused
from studio.filtering import filtered
from studio.filters import ChangeFilter
from studio.history_words import Entry
from studio.models import Change
from studio.pages import needs
from studio.paging import page_of

NEWEST = ("-at", "-id")


@require_safe
@needs("history.see_all")
def history(request: HttpRequest) -> HttpResponse:
    changes = Change.objects.select_related("actor")
    filterset, rows, problems = filtered(ChangeFilter, request.GET, changes, request)
    try:
        paged = _paged(request, rows)
    except Refused as refused:
        problems, paged = refused.problems, {}
    context = {"filter": filterset, "problems": problems, **paged}
    return render(request, "studio/history.html", context, status=400 if problems else 200)


@require_safe
@needs("studio.see")
def history_of(request: HttpRequest, label: str, id: UUID) -> HttpResponse:
    """Of a record that the person may see; every other one does not exist."""
    kind = registry.kinds.get(label)
    if kind is None:
        raise Http404
    record = kind.record(request.user, id)
    if record is None:
        raise Http404
    try:
        kept_from = kind.kept_from(request.user, record)
        paged = _paged(request, Change.objects.filter(kind=label, object_id=id), kept_from)
    except Refused as refused:
        raise Http404(str(refused)) from refused
    context = {"kind": kind, "record": record, "back": kind.url(record), **paged}
    return render(request, "studio/history_of.html", context)


def _paged(request: HttpRequest, changes: QuerySet, kept_from: Collection[str] = ()) -> dict[str, Any]:
    """What the list and its pager need. Refused when the cursor is not one of ours."""
    rows, previous_url, next_url = page_of(request, changes, ordering=NEWEST)
    entries = [Entry(change, kept_from) for change in rows]
    return {"entries": entries, "previous_url": previous_url, "next_url": next_url}
