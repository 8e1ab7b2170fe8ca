"""Labels for lids: which are wanted, several on one sheet, and which were printed."""

from django.conf import settings
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods

from inventory.actions import note_labels_printed
from inventory.labels import lid_labels, whys
from inventory.models import Bucket
from inventory.views.asking import MemberRequest
from studio.pages import needs

TEXT = "text_"


@require_http_methods(["GET", "HEAD", "POST"])
@needs("studio.see")
def labels(request: MemberRequest) -> HttpResponse:
    """Without `?bucket=` the list of what is wanted; with lid codes the sheet; by POST 'these were printed'."""
    if request.method == "POST":
        return _printed(request)
    if request.GET.getlist("bucket"):
        return _sheet(request)
    buckets = list(Bucket.objects.visible_to(request.user).on_the_shelf().with_fill().walking_order())
    rows = whys(buckets)
    context = {
        "wanted": [(bucket, why) for bucket, why in rows if why],
        "others": [bucket for bucket, why in rows if not why],
        "public_url": settings.PUBLIC_URL,
    }
    return render(request, "inventory/labels.html", context)


def _sheet(request: MemberRequest) -> HttpResponse:
    asked = dict.fromkeys(request.GET.getlist("bucket"))
    buckets = Bucket.objects.visible_to(request.user).filter(code__in=asked).with_fill().walking_order()
    found = list(buckets)
    context = {
        "labels": lid_labels(found),
        "buckets": found,
        "unknown": sorted(set(asked) - {bucket.code for bucket in found}),
    }
    return render(request, "inventory/label_sheet.html", context)


def _printed(request: MemberRequest) -> HttpResponse:
    """What the sheet said is posted with it: the bucket may hold something else by now."""
    said = {
        name.removeprefix(TEXT): str(text).replace("\r\n", "\n")
        for name, text in request.POST.items()
        if name.startswith(TEXT)
    }
    buckets = {bucket: said[bucket.code] for bucket in Bucket.objects.filter(code__in=said)}
    note_labels_printed(by=request.user, buckets=buckets)
    done = ngettext(
        "%(count)s label is noted as printed.", "%(count)s labels are noted as printed.", len(buckets)
    )
    messages.success(request, done % {"count": len(buckets)})
    return redirect("inventory:labels")
