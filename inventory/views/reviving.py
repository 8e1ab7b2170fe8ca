"""A dried fill and the water that it wants."""

from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from inventory.actions import revive
from inventory.calc.slurry import SgError
from inventory.forms import ReckonForm, ReviveForm
from inventory.models import Bucket, Fill
from inventory.revival import reckon
from inventory.sentences import sg_error_sentence
from inventory.usage import evaporated, volume_at
from inventory.views.asking import MemberRequest, ask, bound, same_fill
from inventory.views.finding import bucket_or_404, fill_at_hand
from inventory.views.life import WRITES
from studio.pages import needs


@require_http_methods(WRITES)
@needs("flag.clear")
def bring_back(request: MemberRequest, code: str) -> HttpResponse:
    """Reckon first (GET, so that it can be tried out), then note what was really put in."""
    bucket = bucket_or_404(code)
    fill = fill_at_hand(bucket)
    if fill is None:
        return redirect(bucket)

    def act(form: ReviveForm) -> Bucket:
        same_fill(form, fill)
        revive(by=request.user, fill=fill, **form.entry())
        messages.success(request, _("Noted. Stir it well, leave it a night, sieve it, and weigh it again."))
        return bucket

    reckoning = ReckonForm(request.GET if "known" in request.GET else None, initial=_known(fill))
    reckoned = None
    if reckoning.is_bound and reckoning.is_valid():
        try:
            reckoned = reckon(**reckoning.cleaned_data)
        except SgError as error:
            reckoning.add_error(None, sg_error_sentence(error))
    initial: dict[str, Any] = {"fill": fill.pk}
    if reckoned is not None and reckoned.water_ml > 0:
        initial["water_ml"] = reckoned.water_ml
    return ask(
        request,
        bound(request, ReviveForm, initial=initial),
        act,
        back=bucket.get_absolute_url(),
        template="inventory/revive.html",
        title=_("Bring %(fill)s back") % {"fill": fill},
        button=_("Note it"),
        reckoning=reckoning,
        reckoned=reckoned,
        evaporated=evaporated(fill),
        caution=True,
    )


def _known(fill: Fill) -> dict[str, Any]:
    """What the records know: the wanted middle, and the slurry at the last reading."""
    found: dict[str, Any] = {"known": ReckonForm.WAS}
    glaze, reading = fill.glaze, fill.readings.first()
    if glaze.sg_low is not None and glaze.sg_high is not None:
        found["target"] = ((glaze.sg_low + glaze.sg_high) / 2).quantize(Decimal("0.001")).normalize()
    if reading is not None:
        found["specific_gravity"] = reading.specific_gravity.normalize()
        found["volume_ml"] = volume_at(fill, reading.taken_at)
    return found
