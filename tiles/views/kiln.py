"""A kiln: what it really does, what to set on it, what it takes, and how worn its parts are."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.formats import number_format
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from inventory.calc.cones import Cone
from inventory.views.asking import ask, bound
from studio.models import Studio
from studio.pages import PersonRequest, needs
from tiles import actions
from tiles.calc.witness import WitnessResult
from tiles.energy_used import used, with_things
from tiles.forms.kiln import AdviceForm, MeterForm, PartChangeForm, TakeBackForm
from tiles.heat_sentences import reached_words
from tiles.kiln_advice import advise, middle, next_firing
from tiles.kiln_drawing import kiln_map
from tiles.kiln_sentences import advice_words, caution_words, hotter_words
from tiles.kiln_truth import HistoryLine, KilnTruth
from tiles.logs import log_of
from tiles.models import Firing, Kiln, PartChange
from tiles.views.firings import find
from tiles.wear import wear_of
from tiles.wear_words import kwh_words, part_words, wear_words

PAGE = ["GET", "HEAD", "POST"]
LISTED = 12
FIRST_CONE = Cone.parse("6")


@require_safe
@needs("studio.see")
def page(request: PersonRequest, pk: Any) -> HttpResponse:
    kiln = get_object_or_404(Kiln, pk=pk)
    truth = KilnTruth(kiln)
    context = {
        "kiln": kiln,
        "cautions": caution_words(kiln),
        "truth": truth,
        "power": kiln.power_kw and number_format(kiln.power_kw.normalize()),
        "map": kiln_map(truth.shelves),
        "history": [_line(line) for line in truth.history],
        "wear": [(part_words(wear.part), wear_words(wear), wear) for wear in wear_of([kiln])],
        "changes": [*kiln.part_changes.filter(taken_back_at=None)],
        "firings": _firings(kiln),
        **_advice(request, truth),
    }
    return render(request, "tiles/kiln.html", context)


def _line(line: HistoryLine) -> dict[str, Any]:
    """Log and cones of one firing, in words."""
    log = log_of(line.firing)
    return {
        "firing": line.firing,
        "log": reached_words(log.cone, log.cone_fraction, log.cone_low, log.cone_high) if log else "",
        "counts": line.counts,
        "witness": [
            (position or _("position not noted"), _seen(result)) for position, result in line.witness
        ],
    }


def _seen(result: WitnessResult) -> str:
    if result.cone:
        return _("cone %(cone)s") % {"cone": result.cone}
    return _("less than cone %(cone)s") % {"cone": result.below}


def _firings(kiln: Kiln) -> list[tuple[Firing, str]]:
    studio = Studio.current()
    rows = with_things(kiln.firings.select_related("kiln", "log")).order_by("-number")[:LISTED]
    return [(firing, kwh_words(took) if (took := used(firing, studio)) else "") for firing in rows]


def _advice(request: PersonRequest, truth: KilnTruth) -> dict[str, Any]:
    """The form and what it is answered; without a question, of the next firing and the middle shelf."""
    kiln, load = truth.kiln, next_firing(truth.kiln)
    newest = truth.firings[0].target_cone if truth.firings else FIRST_CONE
    first: dict[str, Any] = {"cone": load.target_cone if load else newest, "position": middle(kiln)}
    asked = "cone" in request.GET
    form = AdviceForm(request.GET if asked else None, initial=first, kiln=kiln)
    if asked and not form.is_valid():
        return {"form": form, "load": load}
    given = form.cleaned_data if asked else first
    position = given["position"] or first["position"]
    if position not in kiln.positions:
        return {"form": form, "load": load}
    found = advise(truth, given["cone"], position, load, request.user)
    return {
        "form": form,
        "load": load,
        "advice": advice_words(found),
        "hotter": hotter_words(found),
        "found": found,
    }


@require_http_methods(PAGE)
@needs("kiln.change")
def new_part(request: PersonRequest, pk: Any) -> HttpResponse:
    kiln = get_object_or_404(Kiln, pk=pk)
    back = reverse("tiles:kiln", args=[pk])

    def act(form: Any) -> str:
        actions.note_part_change(by=request.user, kiln=kiln, **form.values())
        messages.success(request, _("Kept. Its firings are counted from that day on."))
        return back

    words = {
        "title": _("A part of %(kiln)s was changed") % {"kiln": kiln},
        "button": _("Keep it"),
        "intro": _("A new thermocouple also begins the kiln's history of offsets anew."),
    }
    form = bound(request, PartChangeForm, kiln=kiln)
    return ask(request, form, act, back=back, template="tiles/body_form.html", **words)


@require_http_methods(PAGE)
@needs("kiln.change")
def part_back(request: PersonRequest, pk: Any, change: Any) -> HttpResponse:
    found = get_object_or_404(PartChange.objects.select_related("kiln"), pk=change, kiln=pk)
    back = reverse("tiles:kiln", args=[pk])

    def act(form: Any) -> str:
        actions.take_part_change_back(by=request.user, part_change=found, reason=form.cleaned_data["reason"])
        messages.success(request, _("Taken back. The firings are counted as before."))
        return back

    words = {"title": _("Take back: %(change)s") % {"change": found}, "button": _("Take it back")}
    return ask(
        request, bound(request, TakeBackForm), act, back=back, template="tiles/body_form.html", **words
    )


@require_http_methods(PAGE)
@needs("firing.log")
def meter(request: PersonRequest, number: int) -> HttpResponse:
    firing = find(number)

    def act(form: Any) -> Firing:
        sent = form.cleaned_data
        return actions.read_meter(
            by=request.user, obj=firing, kwh_read=sent["kwh_read"], version=sent["version"]
        )

    form = bound(request, MeterForm, initial={"version": firing.version, "kwh_read": firing.kwh_read})
    words = {"title": _("The meter and %(firing)s") % {"firing": firing}, "button": _("Keep it")}
    back = firing.get_absolute_url()
    return ask(request, form, act, back=back, template="tiles/body_form.html", **words)
