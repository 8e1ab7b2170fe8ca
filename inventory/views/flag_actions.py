"""Raising a flag, adding to it, taking it back and clearing it."""

import uuid

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from inventory.actions import add_note, clear_flag, raise_flag, withdraw_flag
from inventory.forms import ClearFlagForm, FlagForm, NoteForm, WithdrawFlagForm
from inventory.models import Bucket, Fill, Flag
from inventory.views.asking import ask, bound, same_fill
from inventory.views.finding import bucket_or_404, fill_at_hand
from studio.pages import needs

WRITES = ["GET", "HEAD", "POST"]


def _fill_meant(request: HttpRequest, bucket: Bucket) -> Fill | None:
    """What is in the bucket now, or with `?fill=` one that was: what went wrong may show only on the tiles."""
    try:
        former = request.GET.get("fill") and uuid.UUID(request.GET["fill"])
    except ValueError:
        former = None
    if former:
        return get_object_or_404(bucket.fills.select_related("glaze", "bucket"), pk=former)
    return fill_at_hand(bucket)


@require_http_methods(WRITES)
@needs("flag.raise")
def new(request: HttpRequest, code: str) -> HttpResponse:
    bucket = bucket_or_404(code)
    fill = _fill_meant(request, bucket)
    if fill is None:
        return redirect(bucket)

    def act(form: FlagForm) -> Bucket | Flag:
        same_fill(
            form,
            fill,
            _("Something else is in this bucket by now. Look at its page, then flag what you meant."),
        )
        fresh = uuid.uuid4()
        flag = raise_flag(
            by=request.user,
            fill=fill,
            kind=form.cleaned_data["kind"],
            note=form.cleaned_data["note"],
            since=form.since_moment(),
            id=fresh,
        )
        if flag.pk == fresh:
            messages.success(request, _("Flagged. It is in force at once."))
        else:
            messages.info(request, _("This was flagged already: what you saw was added to it as a note."))
        return bucket if fill.ended_at is None else flag

    form = bound(request, FlagForm, initial={"fill": fill.pk})
    return ask(
        request,
        form,
        act,
        back=bucket.get_absolute_url(),
        title=_("Flag %(glaze)s") % {"glaze": fill.glaze.name},
        button=_("Flag it"),
        intro=_(
            "A flag counts at once, for everybody who opens this lid. You can take yours back until somebody acts."
        ),
    )


def _flag(pk: uuid.UUID) -> Flag:
    return get_object_or_404(
        Flag.objects.select_related("fill__bucket", "fill__glaze", "raised_by", "closed_by"), pk=pk
    )


@require_http_methods(WRITES)
@needs("flag.raise")
def note(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    flag = _flag(pk)

    def act(form: NoteForm) -> Flag:
        add_note(by=request.user, flag=flag, **form.cleaned_data)
        return flag

    return ask(
        request,
        bound(request, NoteForm),
        act,
        back=flag.get_absolute_url(),
        title=_("Add to the flag “%(kind)s”") % {"kind": flag.get_kind_display()},
        button=_("Add"),
    )


@require_http_methods(WRITES)
@needs("flag.withdraw_own")
def withdraw(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    flag = _flag(pk)

    def act(form: WithdrawFlagForm) -> Bucket:
        withdraw_flag(by=request.user, flag=flag, **form.cleaned_data)
        messages.success(request, _("The flag is withdrawn; everything that it touched is lifted."))
        return flag.fill.bucket

    return ask(
        request,
        bound(request, WithdrawFlagForm),
        act,
        back=flag.get_absolute_url(),
        title=_("Withdraw the flag “%(kind)s”") % {"kind": flag.get_kind_display()},
        button=_("Withdraw"),
        intro=_("Take it back when it was never so. Everything that it touched is lifted."),
    )


@require_http_methods(WRITES)
@needs("flag.clear")
def clear(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    flag = _flag(pk)

    def act(form: ClearFlagForm) -> Flag:
        clear_flag(by=request.user, flag=flag, **form.outcome_values())
        messages.success(request, _("The flag is cleared."))
        return flag

    return ask(
        request,
        bound(request, ClearFlagForm),
        act,
        back=flag.get_absolute_url(),
        title=_("Clear the flag “%(kind)s” on %(fill)s")
        % {"kind": flag.get_kind_display(), "fill": flag.fill},
        button=_("Clear"),
    )
