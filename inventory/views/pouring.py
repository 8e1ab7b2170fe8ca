"""From bucket to bucket: what is flagged is said before it is poured, and goes along."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from inventory.actions import pour_into_empty, transfer
from inventory.forms import PourForm
from inventory.models import Bucket, Fill, Label
from inventory.views.asking import MemberRequest, ask, bound, same_fill
from inventory.views.finding import bucket_or_404, fill_at_hand
from inventory.views.life import WRITES
from studio.pages import needs
from studio.roles import may


def others_for(request: MemberRequest, fill: Fill) -> list[Fill]:
    """The other fills of the same glaze that the person may pour from or into."""
    fills = Fill.objects.visible_to(request.user).in_use().filter(glaze=fill.glaze).exclude(pk=fill.pk)
    if not may(request.user, "fill.change"):
        fills = fills.of_the_studio_or(request.user.pk)
    return list(fills.select_related("bucket__place", "glaze").prefetch_related("flags"))


def empties_for(request: MemberRequest) -> list[Bucket]:
    """The buckets with nothing in them that the person may fill."""
    empty = (
        Bucket.objects.visible_to(request.user)
        .on_the_shelf()
        .exclude(fills__ended_at=None, fills__isnull=False)
    )
    own = empty.filter(owner=request.user.pk)
    if may(request.user, "fill.change"):
        own = own | empty.filter(owner__isnull=True)
    return list(own.select_related("place").walking_order())


def warnings_of(fill: Fill) -> list[str]:
    """What would go along: each open flag, and a label that keeps it from food."""
    found = [str(flag.get_kind_display()) for flag in fill.flags.all() if flag.is_open]
    if fill.label == Label.NOT_FOR_FOOD:
        found.append(_("its label says “not for food”"))
    return list(dict.fromkeys(found))


def chip(fill: Fill) -> str:
    """Code, place and level of a bucket, and what is flagged in it."""
    parts = [fill.bucket.code, str(fill.bucket.place or ""), str(fill.get_level_display())]
    warned = warnings_of(fill)
    if warned:
        parts.append(_("flagged: %(flags)s") % {"flags": ", ".join(warned)})
    return ", ".join(part for part in parts if part)


def empty_chip(bucket: Bucket) -> str:
    """Code and place of a bucket with nothing in it."""
    return ", ".join(part for part in (bucket.code, str(bucket.place or ""), _("nothing in it")) if part)


@require_http_methods(WRITES)
@needs("stock.add")
def pour(request: MemberRequest, code: str) -> HttpResponse:
    bucket = bucket_or_404(code)
    fill = fill_at_hand(bucket)
    if fill is None:
        return redirect(bucket)
    others = others_for(request, fill)
    by_code = {other.bucket.code: other for other in others}
    empties = {empty.code: empty for empty in empties_for(request)}

    def act(form: PourForm) -> Bucket:
        same_fill(form, fill)
        said = form.cleaned_data
        poured = {name: said[name] for name in ("id", "volume_ml", "at", "remark")}
        if said["other"] in empties:
            source = fill
            target = pour_into_empty(by=request.user, source=fill, bucket=empties[said["other"]], **poured)
        else:
            other = by_code[said["other"]]
            source, target = (other, fill) if said["way"] == PourForm.INTO else (fill, other)
            transfer(by=request.user, source=source, target=target, **poured)
        messages.success(
            request,
            _("Poured from %(source)s into %(target)s.")
            % {"source": source.bucket.code, "target": target.bucket.code},
        )
        return bucket

    flagged = {other.bucket.code: warnings_of(other) for other in [fill, *others]}
    form = bound(
        request,
        PourForm,
        others=[(other.bucket.code, chip(other)) for other in others],
        empties=[(code, empty_chip(empty)) for code, empty in empties.items()],
        flagged=any(flagged.values()),
        initial={"fill": fill.pk, "way": PourForm.OUT_OF},
    )
    if request.method == "POST" and form.is_valid():
        _knowingly(form, fill, flagged)
    return ask(
        request,
        form,
        act,
        back=bucket.get_absolute_url(),
        template="inventory/pour.html",
        title=_("Pour %(glaze)s from bucket to bucket") % {"glaze": fill.glaze.name},
        button=_("Note it"),
        fill=fill,
        others=[*others, *empties],
        warned=flagged[bucket.code],
    )


def _knowingly(form: PourForm, fill: Fill, flagged: dict[str, list[str]]) -> None:
    said: dict[str, Any] = form.cleaned_data
    source = said["other"] if said["way"] == PourForm.INTO else fill.bucket.code
    if flagged.get(source) and not said.get("knowingly"):
        form.add_error(
            "knowingly",
            _(
                "What is in bucket %(code)s is flagged: %(flags)s. Poured into another it spoils that too, "
                "and the flag goes with it. Mark this only if that is what you want."
            )
            % {"code": source, "flags": ", ".join(flagged[source])},
        )
