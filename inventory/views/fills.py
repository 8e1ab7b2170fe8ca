"""Filling a bucket, putting right what is noted about a fill, ending it, and how much of it there is."""

import uuid

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from inventory.actions import add_stock_entry, change_fill, end_fill, start_fill
from inventory.actions.jars import act_on
from inventory.forms import EndFillForm, FillForm, StartFillForm, StockForm
from inventory.models import Bucket, Fill, Glaze
from inventory.sentences import DRAIN
from inventory.views.asking import MemberRequest, ask, bound, same_fill
from inventory.views.finding import bucket_or_404, fill_at_hand
from studio.pages import needs
from studio.roles import require

WRITES = ["GET", "HEAD", "POST"]


def _open_fill(request: MemberRequest, pk: uuid.UUID) -> Fill:
    fill = get_object_or_404(Fill.objects.select_related("bucket", "glaze"), pk=pk)
    require(request.user, act_on(fill.bucket, request.user, "fill.change"))
    return fill


@require_http_methods(WRITES)
@needs("fill.own_jar")
def new(request: MemberRequest, code: str) -> HttpResponse:
    bucket = bucket_or_404(code)
    require(request.user, act_on(bucket, request.user, "fill.change"))

    def act(form: StartFillForm) -> Bucket:
        start_fill(by=request.user, bucket=bucket, **form.cleaned_data)
        messages.success(request, _("Noted what is in it."))
        return bucket

    form = bound(
        request,
        StartFillForm,
        glazes=Glaze.objects.filter(archived_at=None),
        initial={"glaze": request.GET.get("glaze")},
    )
    return ask(
        request,
        form,
        act,
        back=bucket.get_absolute_url(),
        title=_("Fill bucket %(code)s") % {"code": bucket.code},
        button=_("Fill it"),
        caution=True,
    )


@require_http_methods(WRITES)
@needs("fill.own_jar")
def edit(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    fill = _open_fill(request, pk)

    def act(form: FillForm) -> Bucket:
        version = form.cleaned_data["version"]
        change_fill(by=request.user, obj=fill, values=form.values(), version=version)
        return fill.bucket

    return ask(
        request,
        bound(request, FillForm, instance=fill),
        act,
        back=fill.bucket.get_absolute_url(),
        title=_("What is noted about %(fill)s") % {"fill": fill},
        button=_("Keep"),
    )


@require_http_methods(WRITES)
@needs("fill.own_jar")
def end(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    fill = _open_fill(request, pk)
    open_flags = list(fill.flags.open())

    def act(form: EndFillForm) -> Bucket:
        end_fill(by=request.user, fill=fill, **form.cleaned_data)
        messages.success(request, _("The bucket is noted as empty. Its readings, flags and tiles stay."))
        if open_flags:
            messages.warning(request, _("What was flagged on it is still open, in the list of flags."))
        return fill.bucket

    return ask(
        request,
        bound(request, EndFillForm, initial={"version": fill.version}),
        act,
        back=fill.bucket.get_absolute_url(),
        template="inventory/fill_end.html",
        open_flags=open_flags,
        title=_("End %(fill)s") % {"fill": fill},
        button=_("End it"),
        intro=" ".join(
            (_("When the bucket is empty of it. Its readings, flags and tiles stay."), str(DRAIN))
        ),
    )


@require_http_methods(WRITES)
@needs("stock.add")
def stock(request: MemberRequest, code: str) -> HttpResponse:
    bucket = bucket_or_404(code)
    fill = fill_at_hand(bucket)
    if fill is None:
        return redirect(bucket)

    def act(form: StockForm) -> Bucket:
        same_fill(form, fill)
        add_stock_entry(by=request.user, fill=fill, **form.entry())
        return bucket

    return ask(
        request,
        bound(request, StockForm, bucket=bucket, initial={"fill": fill.pk}),
        act,
        back=bucket.get_absolute_url(),
        title=_("How much %(glaze)s there is") % {"glaze": fill.glaze.name},
        button=_("Note it"),
    )
