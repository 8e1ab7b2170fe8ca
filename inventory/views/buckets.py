"""The vessels: new, changed, put away, and the label for the lid."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from inventory.actions import archive as put_away
from inventory.actions import change_bucket, create_bucket
from inventory.actions.jars import act_on
from inventory.forms import ArchiveForm, BucketForm
from inventory.labels import lid_labels
from inventory.models import Bucket
from inventory.views.asking import MemberRequest, ask, bound
from inventory.views.finding import bucket_or_404
from studio.pages import needs
from studio.roles import may, require

WRITES = ["GET", "HEAD", "POST"]


@require_http_methods(WRITES)
@needs("fill.own_jar")
def new(request: MemberRequest) -> HttpResponse:
    """A technician makes a bucket for the shelf, or with `?own=1`, as every member, an own jar."""
    own_jar = "own" in request.GET or not may(request.user, "bucket.change")

    def act(form: BucketForm) -> str:
        fields = form.values() | ({"owner": request.user} if own_jar else {})
        made = create_bucket(by=request.user, **fields)
        messages.success(request, _("Write %(code)s on the lid, or print its label.") % {"code": made.code})
        return made.get_absolute_url()

    return ask(
        request,
        bound(request, BucketForm, own_jar=own_jar),
        act,
        back=reverse("inventory:shelf"),
        title=_("Your own jar") if own_jar else _("A new bucket"),
        button=_("Make it"),
        intro=_("It gets a code for its lid. What is in it is asked next."),
    )


@require_http_methods(WRITES)
@needs("fill.own_jar")
def edit(request: MemberRequest, code: str) -> HttpResponse:
    bucket = bucket_or_404(code)
    require(request.user, act_on(bucket, request.user, "bucket.change"))

    def act(form: BucketForm) -> str:
        version = form.cleaned_data["version"]
        change_bucket(by=request.user, obj=bucket, values=form.values(), version=version)
        return bucket.get_absolute_url()

    return ask(
        request,
        bound(request, BucketForm, instance=bucket, own_jar=bucket.owner_id is not None),
        act,
        back=bucket.get_absolute_url(),
        title=_("Bucket %(code)s") % {"code": bucket.code},
        button=_("Keep"),
    )


@require_http_methods(WRITES)
@needs("fill.own_jar")
def archive(request: MemberRequest, code: str) -> HttpResponse:
    bucket = bucket_or_404(code)
    require(request.user, act_on(bucket, request.user, "bucket.change"))

    def act(form: ArchiveForm) -> str:
        put_away(by=request.user, obj=bucket, **form.cleaned_data)
        messages.success(request, _("Bucket %(code)s is put away.") % {"code": bucket.code})
        return reverse("inventory:shelf")

    return ask(
        request,
        bound(request, ArchiveForm, initial={"version": bucket.version}),
        act,
        back=bucket.get_absolute_url(),
        title=_("Put bucket %(code)s away") % {"code": bucket.code},
        button=_("Put away"),
        intro=_("It leaves the shelf. What was in it, and its code, are kept."),
    )


@require_safe
@needs("studio.see")
def label(request: MemberRequest, code: str) -> HttpResponse:
    """Black on white, in mm. Its use is not printed: that changes, and paper does not."""
    bucket = bucket_or_404(code)
    read = Bucket.objects.filter(pk=bucket.pk).with_fill()
    context = {"bucket": bucket, "label": next(iter(lid_labels(read)), None)}
    return render(request, "inventory/label.html", context)
