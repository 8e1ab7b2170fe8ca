"""Station mode: a browser that is a device, and the short visits that people pay to it with a PIN.

A station never carries a log-in. Its cookie says which device it is; a *visit* in its session says who stepped up.
A visit acts as the person, with a member's rights at most, and ends

- when the page that follows a write has been shown: one entry is one visit, unless the view is `part_of_an_entry`,
- after the studio's `station_locks_after_seconds` without a request,
- on the station's own front page, to which 'Done, lock' leads.
"""

from collections.abc import Callable
from dataclasses import asdict, dataclass
from datetime import timedelta
from typing import Any

from django.conf import settings
from django.contrib.auth.models import AnonymousUser
from django.contrib.messages import get_messages
from django.http import HttpRequest, HttpResponse
from django.middleware.csrf import rotate_token
from django.utils import timezone

from studio.actions.stations import station_of
from studio.models import Person, Station, Studio
from studio.roles import Role

COOKIE = "station"
COOKIE_AGE = timedelta(days=365)
VISIT = "station_visit"

# The studio's own pages that a station serves. All others are about accounts: nobody's business at a shared tablet.
ALWAYS = {"station", "station-step-up", "station-here", "robots", "healthz"}
IN_A_VISIT = {"home", "more"}


@dataclass(frozen=True)
class Visit:
    """Who stepped up at which station, when they last asked for anything, and whether their entry is written."""

    station: str
    person: str
    seen: float
    is_done: bool = False


def part_of_an_entry(view: Callable[..., Any]) -> Callable[..., Any]:
    """Mark a view whose POST is one step of a longer entry: the visit goes on after it."""
    view.part_of_an_entry = True  # type: ignore[attr-defined]
    return view


def become(response: HttpResponse, secret: str) -> None:
    """Make the browser that gets `response` the station of `secret`, for a year."""
    response.set_signed_cookie(
        COOKIE,
        secret,
        salt=COOKIE,
        max_age=COOKIE_AGE,
        secure=settings.HTTPS,
        httponly=True,
        samesite="Lax",
    )


def station_at(request: HttpRequest) -> Station | None:
    """The open station that the browser is."""
    if COOKIE not in request.COOKIES:
        return None
    return station_of(request.get_signed_cookie(COOKIE, default="", salt=COOKIE, max_age=COOKIE_AGE) or "")


def begin_visit(request: HttpRequest, person: Person) -> None:
    """From now on the station's browser acts as `person`."""
    request.session.flush()
    rotate_token(request)
    station = request.station  # type: ignore[attr-defined]
    keep_visit(request, Visit(str(station.pk), str(person.pk), timezone.now().timestamp()))


def keep_visit(request: HttpRequest, visit: Visit) -> None:
    request.session[VISIT] = asdict(visit)


def end_visit(request: HttpRequest) -> None:
    """Nobody is at the station, and nothing of the visit is left: not even what it had still to be told."""
    request.session.flush()
    request.user = AnonymousUser()
    request.station_was_left = True  # type: ignore[attr-defined]
    forget_messages(request)


def forget_messages(request: HttpRequest) -> None:
    """Messages count as shown once they are read; the frame leaves them out when the station was left."""
    list(get_messages(request))


def visit_at(request: HttpRequest, station: Station) -> Visit | None:
    """The visit that still goes on: of this station, and not idle for too long."""
    if VISIT not in request.session:
        return None
    visit = Visit(**request.session[VISIT])
    idle = timezone.now().timestamp() - visit.seen
    is_idle = idle >= Studio.current().station_locks_after_seconds
    return None if is_idle or visit.station != str(station.pk) else visit


def visitor_of(visit: Visit, station: Station) -> Person | None:
    """The person of a visit, with a member's rights at most; None when the account was closed meanwhile."""
    person = Person.objects.filter(pk=visit.person, is_active=True).first()
    if person is not None:
        person.acting_role = Role.MEMBER  # type: ignore[attr-defined]
        person.acting_via = f"station {station.name}"  # type: ignore[attr-defined]
    return person


def in_reach(view_name: str) -> bool:
    """Whether a page is served to somebody who stepped up."""
    namespace, _colon, name = view_name.rpartition(":")
    return namespace != "studio" or name in ALWAYS | IN_A_VISIT
