"""The SG round: one bucket at a time, in walking order, with nothing to type but the scale's number."""

import uuid
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from inventory.actions import finish_round, measure_stop, pass_stop, set_cup, start_round
from inventory.actions.rounds import gravity_of_cup
from inventory.forms import CupForm, PassForm, StopForm
from inventory.models import Fill, RoundStop, SgRound
from inventory.rounds import answered, last_cup, next_stop, open_round, stops_of
from inventory.views.asking import MemberRequest, ask, bound
from studio.errors import Refused
from studio.pages import needs, refuse
from studio.stations import part_of_an_entry

WRITES = ["GET", "HEAD", "POST"]


def _round(pk: uuid.UUID) -> SgRound:
    return get_object_or_404(SgRound.objects.select_related("started_by"), pk=pk)


def _walk(sg_round: SgRound, **query: int) -> str:
    address = reverse("inventory:round-walk", args=[sg_round.pk])
    return address + "".join(f"?{name}={value}" for name, value in query.items())


def _number(request: MemberRequest, name: str) -> int:
    text = request.GET.get(name, "")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0


@require_http_methods(WRITES)
@needs("round.walk")
@part_of_an_entry
def start(request: MemberRequest) -> HttpResponse:
    going_on = open_round()
    form = bound(request, CupForm, initial=last_cup(request.user))
    return ask(
        request,
        form,
        lambda form: _walk(start_round(by=request.user, **form.cleaned_data)),
        back=reverse("inventory:shelf"),
        template="inventory/round.html",
        title=_("SG round"),
        button=_("Start the round"),
        going_on=going_on,
        is_empty=not Fill.objects.in_use().filter(bucket__owner=None).exists(),
        stops=stops_of(going_on) if going_on else [],
        former=SgRound.objects.exclude(finished_at=None).select_related("started_by")[:10],
    )


@require_http_methods(WRITES)
@needs("round.walk")
@part_of_an_entry
def cup(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    sg_round = _round(pk)

    def act(form: CupForm) -> str:
        set_cup(by=request.user, sg_round=sg_round, **form.cleaned_data)
        return _walk(sg_round)

    initial = {"cup_ml": sg_round.cup_ml, "cup_g": sg_round.cup_g}
    return ask(
        request,
        bound(request, CupForm, initial=initial),
        act,
        back=_walk(sg_round),
        title=_("Another cup"),
        button=_("Use this cup from here on"),
    )


@require_http_methods(WRITES)
@needs("round.walk")
@part_of_an_entry
def walk(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    """`?done=` is the bucket just measured, whose answer stands on top; `?stop=` goes back to one passed over."""
    sg_round = _round(pk)
    form = bound(request, StopForm)
    if request.method == "POST" and form.is_valid():
        stop = _stop(sg_round, form.cleaned_data["stop"])
        said = {name: form.cleaned_data[name] for name in ("gross_g", "specific_gravity")}
        try:
            measure_stop(by=request.user, sg_round=sg_round, stop=stop, **said)
            return redirect(_walk(sg_round, done=stop.order))
        except Refused as refused:
            if _is_settled(sg_round, stop):
                if _was_sent_twice(request, sg_round, stop, said):
                    return redirect(_walk(sg_round, done=stop.order))
                messages.warning(request, _not_recorded(refused, stop, said))
                return redirect(_walk(sg_round))
            refuse(form, refused)
    return _shown(request, sg_round, form)


def _stop(sg_round: SgRound, order: int) -> RoundStop:
    return get_object_or_404(sg_round.stops.select_related("fill__bucket", "fill__glaze"), order=order)


def _is_settled(sg_round: SgRound, stop: RoundStop) -> bool:
    """Somebody else was faster: nothing is left to be put right on the form."""
    stop.refresh_from_db()
    sg_round.refresh_from_db()
    return stop.state == RoundStop.State.MEASURED or sg_round.finished_at is not None


def _was_sent_twice(request: MemberRequest, sg_round: SgRound, stop: RoundStop, said: dict[str, Any]) -> bool:
    """What comes now is recorded already, by the same person: one press too many."""
    reading = stop.reading
    if reading is None or reading.by_id != request.user.pk:
        return False
    gravity = said["specific_gravity"]
    if said["gross_g"] is not None:
        try:
            gravity = gravity_of_cup(sg_round, said["gross_g"])
        except Refused:
            return False
    return bool(gravity == reading.specific_gravity)


def _not_recorded(refused: Refused, stop: RoundStop, said: dict[str, Any]) -> str:
    number = next((value for value in said.values() if value is not None), "")
    return _("%(why)s Your %(number)s for %(fill)s was not recorded.") % {
        "why": refused,
        "number": number,
        "fill": stop.fill,
    }


def _shown(request: MemberRequest, sg_round: SgRound, form: StopForm) -> HttpResponse:
    stops = stops_of(sg_round)
    by_order = {stop.order: stop for stop in stops}
    done = by_order.get(_number(request, "done"))
    context: dict[str, Any] = {
        "round": sg_round,
        "stops": stops,
        "measured": sum(stop.state == RoundStop.State.MEASURED for stop in stops),
        "passed": [stop for stop in stops if stop.state == RoundStop.State.PASSED],
        "just": answered(done) if done and done.reading else None,
    }
    if form.is_bound:
        stop = by_order.get(form.cleaned_data.get("stop") or 0)
    else:
        stop = by_order.get(_number(request, "stop"))
    if stop is None or stop.state == RoundStop.State.MEASURED or sg_round.finished_at:
        stop = next_stop(stops, done.order if done else 0)
    if sg_round.finished_at or stop is None:
        return render(request, "inventory/round_over.html", context)
    if not form.is_bound:
        form = StopForm(initial={"stop": stop.order})
    fill: Any = Fill.objects.with_standing().select_related("glaze", "bucket__place").get(pk=stop.fill_id)
    context |= {"stop": stop, "fill": fill, "use": fill.standing.use, "form": form, "why": PassForm.WHY}
    return render(request, "inventory/round_walk.html", context)


@require_POST
@needs("round.walk")
@part_of_an_entry
def passing(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    sg_round, form = _round(pk), PassForm(request.POST)
    if not form.is_valid():
        messages.warning(request, _("Choose why it is passed over."))
        return redirect(_walk(sg_round))
    stop = _stop(sg_round, form.cleaned_data["stop"])
    try:
        pass_stop(by=request.user, sg_round=sg_round, stop=stop, why=form.words())
    except Refused as refused:
        messages.warning(request, str(refused))
        return redirect(_walk(sg_round))
    following = next_stop(stops_of(sg_round), stop.order)
    return redirect(_walk(sg_round, stop=following.order) if following else _walk(sg_round))


@require_POST
@needs("round.walk")
def finish(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    sg_round = _round(pk)
    finish_round(by=request.user, sg_round=sg_round)
    return redirect("inventory:round-summary", sg_round.pk)


@require_safe
@needs("studio.see")
def summary(request: MemberRequest, pk: uuid.UUID) -> HttpResponse:
    sg_round = _round(pk)
    rows = [answered(stop) for stop in stops_of(sg_round)]
    return render(request, "inventory/round_summary.html", {"round": sg_round, "rows": rows})
