"""`/b/<code>`, the address on the lid: for a visitor name, standing and cautions; for the studio everything."""

from datetime import date
from typing import Any, cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from inventory.actions import may_withdraw
from inventory.actions.jars import act_on
from inventory.advice import advice
from inventory.models import Bucket, Fill, Glaze
from inventory.sentences import age_words, cone_range_words, gravity_words, runs_out_words
from inventory.timeline import time_line
from inventory.trend import trend
from inventory.usage import forecast, look_wanted
from inventory.views.asking import MemberRequest
from inventory.views.finding import bucket_of, corrected, fill_at_hand, open_to_visitors, unknown_lid
from inventory.views.spoken import spoken
from studio import units
from studio.registry import panels_for
from studio.roles import may

READINGS_SHOWN = 10


@open_to_visitors
@require_safe
def bucket(request: HttpRequest, code: str) -> HttpResponse:
    found = bucket_of(code)
    if found is None:
        return unknown_lid(request, code)
    if code != found.code:
        return corrected(request, code, found)
    fill = fill_at_hand(found)
    context: dict[str, Any] = {"bucket": found, "fill": fill, "spoken": spoken(fill) if fill else None}
    if not may(request.user, "studio.see"):
        return render(request, "inventory/bucket_visitor.html", context)
    context["may_fill"] = may_fill(request.user, found)
    context["may_change"] = may(request.user, act_on(found, request.user, "bucket.change"))
    context["former_fills"] = (
        found.fills.exclude(ended_at=None).select_related("glaze").order_by("-ended_at")[:20]
    )
    if fill is not None:
        context |= what_is_in_it(cast(MemberRequest, request), fill)
    return render(request, "inventory/bucket.html", context)


def may_fill(person: Any, bucket: Bucket) -> bool:
    """A technician any bucket, a member an own jar."""
    return may(person, act_on(bucket, person, "fill.change"))


def what_is_in_it(request: MemberRequest, fill: Fill) -> dict[str, Any]:
    readings = list(fill.readings.select_related("by")[:READINGS_SHOWN])
    flags = fill.flags.open().with_story()
    found = advice(fill.glaze, fill.sg, fill.balance_ml) if fill.sg is not None else {}  # type: ignore[attr-defined]
    return found | {
        "facts": facts(fill),
        "readings": readings,
        "trend": trend(
            [(r.taken_at, r.specific_gravity) for r in readings], fill.glaze.sg_low, fill.glaze.sg_high
        ),
        "flags": [(flag, may_withdraw(request.user, flag)) for flag in flags],
        "all_flags": fill.flags.select_related("raised_by").prefetch_related("notes__by"),
        "line": time_line(fill),
        "look": look_wanted(fill),
        "runs_out": runs_out_words(forecast(fill)),
        "panels": panels_for("bucket", request, fill),
        "fill_panels": panels_for("fill", request, fill),
    }


def facts(fill: Fill) -> list[tuple[Any, ...]]:
    """What is noted about a fill, in the order in which one asks at the glaze table."""
    glaze = fill.glaze
    rows = [
        (_("Kind"), f"{glaze.get_kind_display()}, {glaze.get_origin_display()}"),
        (_("Fired to"), cone_range_words(glaze.cone_low, glaze.cone_high)),
        (_("Wanted SG"), window_words(glaze)),
        (_("Level"), level_words(fill)),
        (_("Batch or lot"), fill.lot),
        (_("Mixed or opened"), day_words(fill.made_on)),
        (_("In this bucket"), day_words(timezone.localdate(fill.started_at))),
    ]
    if glaze.maker or glaze.product_code:
        rows.insert(1, (_("Maker"), f"{glaze.maker} {glaze.product_code}".strip()))
    if glaze.origin == Glaze.Origin.BOUGHT:
        rows.append((_("Its label says"), label_words(fill)))
        rows.append((_("For children"), child_words(fill)))
    return rows


def day_words(day: date | None) -> str:
    """The day, and how long ago that was."""
    if day is None:
        return ""
    return ", ".join((date_format(day, "j F Y"), age_words(day)))


def label_words(fill: Fill) -> str:
    """The label as printed, its condition, and who read it when."""
    if not fill.label:
        return ""
    parts = [str(fill.get_label_display()), fill.label_condition]
    if fill.label_read_by and fill.label_read_on:
        parts.append(_read_by(fill.label_read_by, fill.label_read_on))
    return ", ".join(part for part in parts if part)


def child_words(fill: Fill) -> str:
    """What the container says of children, and who read it when."""
    if not fill.child_fit:
        return ""
    parts = [str(fill.get_child_fit_display())]
    if fill.child_fit_read_by and fill.child_fit_read_on:
        parts.append(_read_by(fill.child_fit_read_by, fill.child_fit_read_on))
    return ", ".join(parts)


def _read_by(reader: Any, day: date) -> str:
    return _("read by %(name)s on %(day)s") % {"name": reader.name, "day": date_format(day, "j F Y")}


def window_words(glaze: Any) -> str:
    if glaze.sg_low is None:
        return ""
    return _("%(low)s to %(high)s") % {
        "low": gravity_words(glaze.sg_low),
        "high": gravity_words(glaze.sg_high),
    }


def level_words(fill: Fill) -> str:
    volume = (
        _("about %(volume)s") % {"volume": units.volume(fill.balance_ml)}
        if fill.balance_ml is not None
        else ""
    )
    return ", ".join(str(part) for part in (fill.get_level_display(), volume) if part)
