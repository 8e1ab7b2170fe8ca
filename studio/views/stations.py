"""A station's own pages: what stands open, the names, the PIN; and the page on which stations are kept."""

from collections.abc import Callable
from functools import wraps
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.contrib.auth import logout
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from studio.actions.stations import close_station, set_up_station, step_up
from studio.errors import Refused
from studio.forms import PinForm, StationForm
from studio.models import Person, Station
from studio.pages import needs, refuse
from studio.registry import nav, panels_for
from studio.stations import become, begin_visit, end_visit
from studio.views.login import onward

WRITES = ["GET", "HEAD", "POST"]


@require_http_methods(WRITES)
@needs("station.set_up")
def stations(request: Any) -> HttpResponse:
    """The stations, and the form that makes one of the browser in hand."""
    form = StationForm(request.POST if request.method == "POST" else None)
    if form.is_bound and form.is_valid():
        try:
            _station, secret = set_up_station(by=request.user, **form.cleaned_data)
        except Refused as refused:
            refuse(form, refused)
        else:
            logout(request)
            response = redirect("studio:station")
            become(response, secret)
            return response
    open_ones = Station.objects.filter(closed_at=None).select_related("made_by")
    return render(request, "studio/stations.html", {"form": form, "stations": open_ones})


@require_POST
@needs("station.set_up")
def close(request: Any, id: UUID) -> HttpResponse:
    station = close_station(by=request.user, station=get_object_or_404(Station, pk=id))
    messages.success(
        request, _("%(station)s is closed: its browser is like any other again.") % {"station": station}
    )
    return redirect("studio:stations")


def at_a_station(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """A page that only a station's browser has."""

    @login_not_required
    @never_cache
    @wraps(view)
    def checked(request: Any, *args: Any, **kwargs: Any) -> HttpResponse:
        if request.station is not None:
            return view(request, *args, **kwargs)
        if not request.user.is_authenticated:
            return redirect_to_login(request.get_full_path())
        raise Http404

    return checked


@require_safe
@at_a_station
def front(request: Any) -> HttpResponse:
    """What stands open at a station. Whoever comes here has gone: this is where 'Done, lock' leads."""
    end_visit(request)
    panels = panels_for("station", request, request.station)
    # Whoever came to make an entry finds the lids again, not the page that a log-in leads to.
    first = next(item for item in nav if item.where == "frame")
    entry_url = step_up_address(reverse(first.url_name))
    return render(request, "studio/station.html", {"panels": panels, "entry_url": entry_url})


@require_safe
@at_a_station
def here(request: HttpRequest) -> HttpResponse:
    """Somebody is still typing: asking for anything at all keeps the visit going."""
    return HttpResponse(status=204)


@sensitive_post_parameters("pin", "typed")
@require_http_methods(WRITES)
@at_a_station
def step_up_page(request: Any) -> HttpResponse:
    """Who is it, then the PIN, then on to `next`, with what was typed into a form before the station locked."""
    asked = request.POST if request.method == "POST" else request.GET
    there = onward(request)
    # Never out of an address: a link must not put an entry into somebody's mouth.
    typed = request.POST.get("typed")
    person = _with_pin().filter(pk=_uuid(asked.get("person"))).first()
    if person is None:
        return names_page(request, there=there, typed=typed)
    form = PinForm(request.POST if "pin" in request.POST else None)
    if form.is_bound and form.is_valid():
        try:
            step_up(station=request.station, person=person, pin=form.cleaned_data["pin"])
        except Refused as refused:
            refuse(form, refused)
        else:
            begin_visit(request, person)
            if typed is None:
                return redirect(there)
            context = {"person": person, "there": there, "fields": _fields(typed)}
            return render(request, "studio/station_send.html", context)
    end_visit(request)
    context = {"person": person, "form": form, "there": there, "typed": typed}
    return render(request, "studio/station_pin.html", context)


def names_page(request: Any, *, there: str, typed: str | None = None) -> HttpResponse:
    """The names of whoever has a PIN, each a thing to press. `typed`: a form's fields, in the form of a query."""
    end_visit(request)
    context = {"people": _with_pin(), "there": there, "typed": typed, "had_files": bool(request.FILES)}
    response = render(request, "studio/station_names.html", context)
    response["Cache-Control"] = "private, no-store"
    return response


def step_up_address(there: str) -> str:
    return f"{reverse('studio:station-step-up')}?{urlencode({'next': there})}"


def _with_pin() -> Any:
    return Person.objects.filter(is_active=True, pin__isnull=False)


def _uuid(text: str | None) -> UUID | None:
    try:
        return UUID(text or "")
    except ValueError:
        return None


def _fields(typed: str) -> list[tuple[str, str]]:
    return [(name, value) for name, values in QueryDict(typed).lists() for value in values]
