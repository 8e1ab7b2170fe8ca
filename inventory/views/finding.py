"""From what was scanned or typed to a bucket."""

from collections.abc import Callable
from functools import wraps

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.views import redirect_to_login
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from inventory.calc.lid_codes import normalised, possible_codes, similar_codes
from inventory.models import Bucket, Fill
from studio.roles import may


def open_to_visitors(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Without log-in, as long as the manager keeps the bucket pages open; at a station of the studio always."""

    @login_not_required
    @wraps(view)
    def checked(request: HttpRequest, *args: str, **kwargs: str) -> HttpResponse:
        is_open = request.studio.bucket_pages_open or request.station is not None  # type: ignore[attr-defined]
        if is_open or may(request.user, "studio.see"):
            return view(request, *args, **kwargs)
        return redirect_to_login(request.get_full_path())

    return checked


def bucket_of(typed: str) -> Bucket | None:
    """The one bucket whose code `typed` can be; None when there is none or more than one."""
    if len(normalised(typed)) > 6:
        return None
    found = list(Bucket.objects.filter(code__in=possible_codes(typed))[:2])
    return found[0] if len(found) == 1 else None


def bucket_or_404(code: str) -> Bucket:
    return get_object_or_404(Bucket.objects.select_related("place", "owner"), code=code)


def unknown_lid(request: HttpRequest, typed: str) -> HttpResponse:
    """A kind page: what was typed is kept, and lids that look alike are offered, never guessed."""
    alike = possible_codes(typed) | similar_codes(typed)
    buckets = Bucket.objects.filter(code__in=alike).with_fill()[:4]
    return render(request, "inventory/unknown_lid.html", {"typed": typed[:20], "alike": buckets}, status=404)


@open_to_visitors
@require_safe
def find(request: HttpRequest) -> HttpResponse:
    """`/b/?code=`: a lid code typed by hand."""
    typed = request.GET.get("code", "").strip()
    if not typed:
        return render(request, "inventory/unknown_lid.html", {"typed": ""})
    found = bucket_of(typed)
    return redirect(found) if found else unknown_lid(request, typed)


def corrected(request: HttpRequest, typed: str, bucket: Bucket) -> HttpResponse:
    """To the address that is on the lid; what was read differently is said."""
    if normalised(typed) != bucket.code:
        messages.info(
            request,
            _(
                "No lid code has 0, O, 1, I or L, so “%(typed)s” was read as %(code)s. Compare it with the lid."
            )
            % {"typed": typed[:20], "code": bucket.code},
        )
    return redirect(bucket)


def fill_at_hand(bucket: Bucket) -> Fill | None:
    """What is in the bucket now, with its standing."""
    return (
        Fill.objects.filter(bucket=bucket, ended_at=None)
        .select_related("glaze", "bucket", "label_read_by", "child_fit_read_by")
        .with_standing()
        .first()
    )
