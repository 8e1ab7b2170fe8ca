"""Top-up, treatments and washing out: what is done to a fill between its beginning and its end."""

import uuid

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from inventory.actions import top_up, treat, wash_out
from inventory.actions.jars import act_on
from inventory.doses import hints
from inventory.forms import TopUpForm, TreatmentForm, WashOutForm
from inventory.models import Bucket, Fill
from inventory.sentences import DRAIN
from inventory.views.asking import MemberRequest, ask, bound, same_fill
from inventory.views.bucket import what_is_in_it
from inventory.views.finding import bucket_or_404, fill_at_hand
from studio.pages import needs
from studio.roles import require

WRITES = ["GET", "HEAD", "POST"]


@require_safe
@needs("studio.see")
def fill(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    """A fill with all that was noted about it; one that ended keeps everything."""
    fills = Fill.objects.visible_to(request.user).with_standing()
    found = get_object_or_404(
        fills.select_related("glaze", "bucket", "label_read_by", "child_fit_read_by"), pk=pk
    )
    if found.ended_at is None:
        return redirect(found.bucket)
    context = {"bucket": found.bucket, "fill": found, "is_former": True}
    return render(request, "inventory/fill.html", context | what_is_in_it(request, found))


@require_http_methods(WRITES)
@needs("fill.own_jar")
def more(request: MemberRequest, code: str) -> HttpResponse:
    bucket = bucket_or_404(code)
    require(request.user, act_on(bucket, request.user, "fill.change"))
    fill = fill_at_hand(bucket)
    if fill is None:
        return redirect(bucket)

    def act(form: TopUpForm) -> Bucket:
        same_fill(form, fill)
        top_up(by=request.user, fill=fill, **form.entry())
        messages.success(request, _("Noted. Stir it well and read its specific gravity again."))
        return bucket

    return ask(
        request,
        bound(request, TopUpForm, initial={"fill": fill.pk}),
        act,
        back=bucket.get_absolute_url(),
        title=_("Top up %(fill)s") % {"fill": fill},
        button=_("Note it"),
        caution=True,
    )


@require_http_methods(WRITES)
@needs("stock.add")
def treatment(request: MemberRequest, code: str) -> HttpResponse:
    bucket = bucket_or_404(code)
    fill = fill_at_hand(bucket)
    if fill is None:
        return redirect(bucket)

    def act(form: TreatmentForm) -> Bucket:
        same_fill(form, fill)
        treat(by=request.user, fill=fill, **form.entry())
        return bucket

    return ask(
        request,
        bound(request, TreatmentForm, initial={"fill": fill.pk, "kind": request.GET.get("kind")}),
        act,
        back=bucket.get_absolute_url(),
        template="inventory/treatment.html",
        title=_("Stirred, sieved or added to: %(fill)s") % {"fill": fill},
        button=_("Note it"),
        hints=hints(fill.sg, fill.balance_ml),  # type: ignore[attr-defined]
        fill=fill,
        caution=True,
    )


@require_http_methods(WRITES)
@needs("fill.own_jar")
def washing_out(request: MemberRequest, code: str) -> HttpResponse:
    bucket = bucket_or_404(code)
    require(request.user, act_on(bucket, request.user, "fill.change"))
    fill = fill_at_hand(bucket)
    if fill is None:
        return redirect(bucket)

    def act(form: WashOutForm) -> Bucket:
        wash_out(by=request.user, fill=fill, **form.cleaned_data)
        messages.success(request, _("The bucket is noted as washed out and empty. What was noted stays."))
        return bucket

    return ask(
        request,
        bound(request, WashOutForm, initial={"version": fill.version}),
        act,
        back=bucket.get_absolute_url(),
        title=_("Wash out %(fill)s") % {"fill": fill},
        button=_("Wash it out"),
        intro=" ".join((_("What is left is noted as thrown away, and the fill ends."), str(DRAIN))),
        caution=True,
    )
