"""The door of a station: what is served to nobody in particular, what to a visit, and who is asked for a name."""

from collections.abc import Callable
from dataclasses import asdict, replace
from typing import Any

from django.contrib.auth import SESSION_KEY
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django_htmx.http import HttpResponseClientRedirect

from studio.roles import NotAllowed
from studio.stations import (
    ALWAYS,
    VISIT,
    Visit,
    end_visit,
    forget_messages,
    in_reach,
    keep_visit,
    station_at,
    visit_at,
    visitor_of,
)
from studio.views.stations import names_page, step_up_address

API = "/api/v1/"


class StationMiddleware:
    """Sets `request.station`, and at a station `request.user`: whoever stepped up, else nobody.

    It stands before a log-in is asked for, and a log-in in the same browser counts for nothing at a station.
    `request.station_is_done`: the entry is written, and with this page the visit is over.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: Any) -> HttpResponseBase:
        request.station = station = station_at(request)
        request.station_is_done = request.station_was_left = False
        if station is None:
            return self.get_response(request)
        visit = visit_at(request, station)
        person = visitor_of(visit, station) if visit else None
        if visit is None or person is None:
            if VISIT in request.session or SESSION_KEY in request.session:
                end_visit(request)
            return self.get_response(request)
        request.user = person
        return self._visited(request, replace(visit, seen=timezone.now().timestamp()))

    def _visited(self, request: Any, visit: Visit) -> HttpResponseBase:
        """The answer of a request within a visit, and whether the visit ends with it."""
        keep_visit(request, visit)
        request.station_is_done = visit.is_done and request.method == "GET"
        response = self.get_response(request)
        # Neither the next person's Back button nor a cache may show this again.
        response["Cache-Control"] = "private, no-store"
        # Left, or somebody else stepped up with this very request: theirs is another visit.
        if request.session.get(VISIT) != asdict(visit):
            return response
        is_onward = 300 <= response.status_code < 400
        if request.method == "POST" and is_onward and not _goes_on(request):
            keep_visit(request, replace(visit, is_done=True))
        elif request.station_is_done and not is_onward and _is_page(response):
            request.session.flush()
        return response

    def process_view(self, request: Any, view: Callable[..., Any], args: Any, kwargs: Any) -> Any:
        if request.station is None or request.path.startswith(API):
            return None
        if request.station_was_left:
            # They were not there yet when the visit ended.
            forget_messages(request)
        match = request.resolver_match
        is_own = match.namespace == "studio"
        if is_own and match.url_name in ALWAYS:
            return None
        if request.user.is_authenticated:
            if in_reach(match.view_name):
                return None
            raise NotAllowed(
                _(
                    "This is not done at a station, where everybody looks on. Use a phone or a computer on which "
                    "you log in yourself."
                )
            )
        # What every visitor may see stands open; only the ways to log in do not.
        if not is_own and not getattr(view, "login_required", True):
            return None
        return ask_who(request)


def ask_who(request: Any) -> HttpResponse:
    """To the names, and from there on to where the request wanted to go; a form that was sent goes along."""
    if request.htmx:
        return HttpResponseClientRedirect(step_up_address(request.htmx.current_url_abs_path or ""))
    if request.method == "POST" and in_reach(request.resolver_match.view_name):
        typed = request.POST.copy()
        typed.pop("csrfmiddlewaretoken", None)
        return names_page(request, there=request.get_full_path(), typed=typed.urlencode())
    # A page that sends its visitors to the log-in has said where they wanted to go.
    wanted = request.GET.get("next", "") if request.path == reverse("studio:login") else ""
    return redirect(step_up_address(wanted or request.get_full_path()))


def _goes_on(request: Any) -> bool:
    return getattr(request.resolver_match.func, "part_of_an_entry", False)


def _is_page(response: HttpResponseBase) -> bool:
    return response.get("Content-Type", "").startswith("text/html")
