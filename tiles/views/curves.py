"""The curve of a firing: on its page, and large on a page of its own that can be printed."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from studio.pages import PersonRequest, needs
from tiles.curve_drawings import NARROW, WIDE, draw
from tiles.curve_words import (
    describe,
    falls_in_words,
    hourly,
    peak_words,
    said_at,
    spells_in_words,
    steps,
)
from tiles.curves import Curve, firing_curve
from tiles.heat_sentences import heat_words, reached_words
from tiles.logs import log_of
from tiles.models import Firing, TileFiring
from tiles.plan_and_log import compared
from tiles.predicting import plan_said
from tiles.schedule_sentences import segments_words
from tiles.views.firings import find

STEP_MIN = 15


@require_safe
@needs("studio.see")
def page(request: PersonRequest, number: int) -> HttpResponse:
    firing = find(number)
    log, reached = log_of(firing), ""
    if log and log.computed_with:
        reached = reached_words(log.cone, log.cone_fraction, log.cone_low, log.cone_high)
    curve = firing_curve(firing)
    plan = curve.prediction
    expected = heat_words(plan.heat) if plan and plan.heat else ""
    context = {"firing": firing, "expected": expected, "reached": reached, **curve_context(request, curve)}
    return render(request, "tiles/firing_curve.html", context)


def plan_context(request: PersonRequest, firing: Firing, rows: list[TileFiring]) -> dict[str, Any]:
    """For the firing's page: its plan in words, what it is to come to or came to, and the curve."""
    curve = firing_curve(firing)
    plan = curve.prediction
    said = plan_said(firing, plan, rows) if plan and firing.takes_tiles else []
    return {
        "prediction": plan,
        "segments": segments_words(plan.segments) if plan else [],
        "plan_findings": said,
        "compared": compared(curve, log_of(firing)),
        **curve_context(request, curve),
    }


def curve_context(request: HttpRequest, curve: Curve) -> dict[str, Any]:
    """`curve` for tiles/_curve.html, with the moment that was tapped (`?at=`); None where nothing is to draw."""
    if curve.is_empty:
        return {"curve": None}
    at = asked(request.GET.get("at", ""), curve.end_min)
    shown = {
        "drawings": [draw(curve, paper, at) for paper in (NARROW, WIDE)],
        "words": describe(curve),
        "peak": peak_words(curve),
        "has_log": curve.has_log,
        "has_plan": bool(len(curve.plan_minutes)),
        "falls": falls_in_words(curve),
        "rows": hourly(curve),
        "events": curve.events,
        "spells": spells_in_words(curve),
        "said": said_at(curve, at) if at is not None else "",
        "steps": steps(curve),
        "end": round(curve.end_min),
        "at": at,
        "earlier": _beside(at, -STEP_MIN, curve.end_min),
        "later": _beside(at, STEP_MIN, curve.end_min),
    }
    return {"curve": shown}


def asked(text: str, end_min: float) -> int | None:
    """The minute in the address; anything else is as if nothing had been tapped."""
    if not (text.isascii() and text.isdigit() and len(text) < 8):
        return None
    return min(int(text), round(end_min))


def _beside(at: int | None, step: int, end_min: float) -> int:
    """Where the links beside the drawing lead: from the start, if nothing is tapped yet."""
    return min(max((at or 0) + step, 0), round(end_min))
