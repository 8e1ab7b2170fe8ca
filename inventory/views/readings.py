"""A specific gravity, and the water that it asks for."""

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from inventory.actions import add_reading
from inventory.advice import advice
from inventory.forms import ReadingForm
from inventory.models import Fill
from inventory.views.asking import MemberRequest, ask, bound, same_fill
from inventory.views.finding import bucket_or_404, fill_at_hand
from studio.pages import needs


@require_http_methods(["GET", "HEAD", "POST"])
@needs("reading.add")
def new(request: MemberRequest, code: str) -> HttpResponse:
    bucket = bucket_or_404(code)
    fill = fill_at_hand(bucket)
    if fill is None:
        return redirect(bucket)

    def act(form: ReadingForm) -> str:
        same_fill(
            form, fill, _("Something else is in this bucket by now. Look at its page, then read it again.")
        )
        reading = add_reading(by=request.user, fill=fill, **form.entry())
        return f"{reverse('inventory:reading-new', args=[bucket.code])}?reading={reading.pk}"

    form = bound(request, ReadingForm, initial={"fill": fill.pk})
    return ask(
        request,
        form,
        act,
        back=bucket.get_absolute_url(),
        template="inventory/reading.html",
        title=_("Specific gravity of %(glaze)s") % {"glaze": fill.glaze.name},
        button=_("Record"),
        bucket=bucket,
        fill=fill,
        **just_recorded(request, fill),
    )


def just_recorded(request: MemberRequest, fill: Fill) -> dict[str, Any]:
    """The reading that was recorded a moment ago, and what it asks for."""
    try:
        reading = get_object_or_404(fill.readings, pk=request.GET["reading"])
    except (KeyError, ValueError):
        return {}
    return {"reading": reading, **advice(fill.glaze, reading.specific_gravity, fill.balance_ml)}
