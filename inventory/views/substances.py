"""What of concern is in a glaze, and a label that was misread: noted, and taken back with a reason."""

import uuid

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from inventory.actions import note_substance, take_back_substance, withdraw_label
from inventory.forms.substances import SubstanceForm, WhyItIsNotSoForm
from inventory.models import Bucket, Fill, Glaze, GlazeSubstance
from inventory.views.asking import MemberRequest, ask, bound
from studio.pages import needs

WRITES = ["GET", "HEAD", "POST"]


@require_http_methods(WRITES)
@needs("substance.note")
def new(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    glaze = get_object_or_404(Glaze, pk=pk)

    def act(form: SubstanceForm) -> str:
        note_substance(by=request.user, glaze=glaze, **form.cleaned_data)
        messages.success(request, _("It is noted."))
        return f"{glaze.get_absolute_url()}#inside"

    return ask(
        request,
        bound(request, SubstanceForm),
        act,
        back=glaze.get_absolute_url(),
        title=_("What is in %(glaze)s") % {"glaze": glaze.name},
        button=_("Note it"),
        intro=_(
            "Note what matters where food touches it. Read it on the container or in the data sheet, or ask its maker; "
            "a stain whose analysis nobody knows is noted as one."
        ),
    )


@require_http_methods(WRITES)
@needs("substance.note")
def take_back(request: MemberRequest, pk: uuid.UUID, row: uuid.UUID) -> HttpResponse:
    found = get_object_or_404(
        GlazeSubstance.objects.select_related("glaze", "by"), pk=row, glaze=pk, taken_back_at=None
    )

    def act(form: WhyItIsNotSoForm) -> str:
        take_back_substance(by=request.user, row=found, reason=form.cleaned_data["reason"])
        messages.success(request, _("It is taken back."))
        return f"{found.glaze.get_absolute_url()}#inside"

    return ask(
        request,
        bound(request, WhyItIsNotSoForm),
        act,
        back=found.glaze.get_absolute_url(),
        title=_("Take back: %(what)s in %(glaze)s") % {"what": found, "glaze": found.glaze.name},
        button=_("Take it back"),
        intro=_("It counts no longer then. The history keeps it, and your reason."),
    )


@require_http_methods(WRITES)
@needs("flag.clear")
def mistaken_label(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    fill = get_object_or_404(Fill.objects.select_related("bucket", "glaze"), pk=pk)

    def act(form: WhyItIsNotSoForm) -> Bucket:
        reason, version = form.cleaned_data["reason"], form.cleaned_data["version"]
        withdraw_label(by=request.user, fill=fill, reason=reason, version=version)
        messages.success(
            request, _("The label is taken back. Read the container again and note what it says.")
        )
        return fill.bucket

    return ask(
        request,
        bound(request, WhyItIsNotSoForm, initial={"version": fill.version}),
        act,
        back=fill.bucket.get_absolute_url(),
        title=_("The label “not for food” on %(fill)s was a mistake") % {"fill": fill},
        button=_("Take the label back"),
        intro=_(
            "Only if the container never said so. Flags that it raised in buckets into which this was poured stay: "
            "clear each of them."
        ),
    )
