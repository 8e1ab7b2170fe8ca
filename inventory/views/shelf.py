"""Every bucket by place, in the order in which one walks."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_safe

from inventory.filters import BucketFilter
from inventory.models import Bucket
from inventory.queries import WALK
from inventory.views.listing import listed
from inventory.views.spoken import spoken
from studio.pages import needs


@require_safe
@needs("studio.see")
def shelf(request: HttpRequest) -> HttpResponse:
    """The page, or for htmx the list alone: one query serves both."""
    buckets = Bucket.objects.visible_to(request.user).with_fill().walking_order()
    context = listed(request, BucketFilter, buckets, ordering=WALK)
    context["lids"] = [
        {"bucket": bucket, "fill": bucket.fill, "spoken": spoken(bucket.fill) if bucket.fill else None}
        for bucket in context["rows"]
    ]
    fragment = request.htmx and not request.htmx.history_restore_request  # type: ignore[attr-defined]
    response = render(request, "inventory/_shelf.html" if fragment else "inventory/shelf.html", context)
    patch_vary_headers(response, ["HX-Request"])
    return response
