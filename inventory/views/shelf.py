"""Every bucket by place, in the order in which one walks: as a page, and the same as a table."""

from typing import Any

from django.http import HttpResponse, StreamingHttpResponse
from django.shortcuts import render
from django.utils.cache import patch_vary_headers
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from inventory.exports import SHELF_COLUMNS, shelf_cells
from inventory.facets import Facet, facets
from inventory.filters import BucketFilter
from inventory.models import Bucket
from inventory.queries import WALK
from inventory.views.asking import MemberRequest
from inventory.views.listing import listed
from inventory.views.spoken import spoken
from studio.addresses import handed_on
from studio.exports import csv_answer, csv_lines, csv_refused
from studio.filtering import filtered
from studio.pages import needs


@require_safe
@needs("studio.see")
def shelf(request: MemberRequest) -> HttpResponse:
    """The page, or for htmx the list with its counts: one query serves both."""
    buckets = Bucket.objects.visible_to(request.user).for_the_shelf()
    context = listed(request, BucketFilter, buckets, ordering=WALK)
    understood = context["filter"] if not context["problems"] else _nothing_asked(request, buckets)
    context["facets"] = facets(understood, buckets)
    context["chosen"] = _chosen(request, context["facets"])
    context["query"] = _without(request, "cursor")
    context["lids"] = [
        {
            "bucket": bucket,
            "fill": bucket.fill,
            "spoken": spoken(bucket.fill) if bucket.fill else None,
            "heading": _heading(understood, bucket),
        }
        for bucket in context["rows"]
    ]
    fragment = request.htmx and not request.htmx.history_restore_request  # type: ignore[attr-defined]
    template = "inventory/_shelf_answer.html" if fragment else "inventory/shelf.html"
    response = render(request, template, context)
    patch_vary_headers(response, ["HX-Request"])
    return response


def _nothing_asked(request: MemberRequest, buckets: Any) -> BucketFilter:
    filterset: Any = filtered(BucketFilter, {}, buckets, request)[0]
    return filterset


def _heading(filterset: BucketFilter, bucket: Bucket) -> str:
    if bucket.place_id:
        return filterset.walk.words(bucket.place_id)
    return _("Own jars") if bucket.owner_id else _("Without a place")


def _chosen(request: MemberRequest, asked: list[Facet]) -> list[tuple[str, str]]:
    """What is asked, each with the address of the shelf without it."""
    answers = [(facet.name, facet.chosen) for facet in asked]
    return [(answer.words, _without(request, name, "cursor")) for name, answer in answers if answer]


def _without(request: MemberRequest, *names: str) -> str:
    query = request.GET.copy()
    for name in [name for name in query if name in names or not query[name]]:
        del query[name]
    return query.urlencode()


@require_safe
@needs("studio.see")
def table(request: MemberRequest) -> HttpResponse | StreamingHttpResponse:
    """The buckets of the same question as CSV."""
    buckets = Bucket.objects.visible_to(request.user).for_the_shelf()
    _filterset, rows, problems = filtered(BucketFilter, request.GET, buckets, request)
    if problems:
        return csv_refused(problems)
    root = handed_on(request, "/").rstrip("/")
    # Now, while the reader's units and time zone hold: the lines are sent later.
    lines = [shelf_cells(bucket, root) for bucket in rows]
    return csv_answer(csv_lines(SHELF_COLUMNS, lines, list), "shelf.csv")
