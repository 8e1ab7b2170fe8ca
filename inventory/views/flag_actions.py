"""Raising a flag, adding to it, taking it back and clearing it."""

import uuid
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from inventory.actions import (
    add_flag_photo,
    add_note,
    clear_flag,
    raise_flag_with_photos,
    withdraw_flag,
)
from inventory.forms import (
    ClearFlagForm,
    FlagForm,
    FlagPhotoForm,
    NoteForm,
    ReachForm,
    WithdrawFlagForm,
)
from inventory.models import Bucket, Fill, Flag
from inventory.reach import as_it_would_be
from inventory.views.asking import MemberRequest, ask, bound, same_fill
from inventory.views.finding import bucket_or_404, fill_at_hand
from inventory.views.touched import touched
from studio.pages import needs

WRITES = ["GET", "HEAD", "POST"]


def _fill_meant(request: MemberRequest, bucket: Bucket) -> Fill | None:
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
def new(request: MemberRequest, code: str) -> HttpResponse:
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
        flag = raise_flag_with_photos(
            by=request.user,
            fill=fill,
            files=form.chosen_photos,
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

    if "look" in request.POST:  # a browser without scripts asks what it would touch
        form = FlagForm(initial=request.POST.dict())
    else:
        form = bound(request, FlagForm, initial={"fill": fill.pk})
    return ask(
        request,
        form,
        act,
        back=bucket.get_absolute_url(),
        template="inventory/flag_new.html",
        bucket=bucket,
        **_would_touch(request, fill, request.POST),
        title=_("Flag %(glaze)s") % {"glaze": fill.glaze.name},
        button=_("Flag it"),
        intro=_(
            "A flag counts at once, for everybody who opens this lid. You can take yours back until somebody acts."
        ),
    )


def _would_touch(request: MemberRequest, fill: Fill, typed: Any) -> dict[str, Any]:
    """What raising the flag that is being typed would touch; before a kind is chosen, at the worst."""
    form = ReachForm(typed)
    if not form.is_valid():
        return {}
    kind = form.cleaned_data["kind"] or Flag.Kind.CONTAMINATED
    return touched(request, as_it_would_be(fill, kind, form.since_moment()))


@require_safe
@needs("flag.raise")
def reach(request: MemberRequest, code: str) -> HttpResponse:
    """The same for htmx, while the form is filled in."""
    bucket = bucket_or_404(code)
    fill = _fill_meant(request, bucket)
    if fill is None or not request.htmx:  # type: ignore[attr-defined]
        return redirect("inventory:flag-new", code=code)
    return render(request, "inventory/_touched.html", _would_touch(request, fill, request.GET))


def _flag(pk: uuid.UUID) -> Flag:
    return get_object_or_404(Flag.objects.with_story(), pk=pk)


@require_http_methods(WRITES)
@needs("flag.raise")
def photo(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    flag = _flag(pk)

    def act(form: FlagPhotoForm) -> Flag:
        for file in form.chosen_photos:
            add_flag_photo(by=request.user, flag=flag, file=file)
        return flag

    return ask(
        request,
        bound(request, FlagPhotoForm),
        act,
        back=flag.get_absolute_url(),
        title=_("A photo for the flag “%(kind)s”") % {"kind": flag.get_kind_display()},
        button=_("Keep the photo"),
    )


@require_http_methods(WRITES)
@needs("flag.raise")
def note(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
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
def withdraw(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
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
def clear(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    flag = _flag(pk)

    def act(form: ClearFlagForm) -> Flag:
        clear_flag(by=request.user, flag=flag, **form.outcome_values())
        messages.success(request, _("The flag is cleared."))
        return flag

    return ask(
        request,
        bound(request, ClearFlagForm, is_carried=flag.origin_id is not None),
        act,
        back=flag.get_absolute_url(),
        template="inventory/flag_clear.html",
        **touched(request, flag),
        title=_("Clear the flag “%(kind)s” on %(fill)s")
        % {"kind": flag.get_kind_display(), "fill": flag.fill},
        button=_("Clear"),
    )
