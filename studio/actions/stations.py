"""Stations: a tablet that stays signed in as a device, and the PINs with which people step up to it."""

import math
import re
import secrets
from datetime import datetime, timedelta
from itertools import pairwise

from django.contrib.auth.hashers import check_password, make_password
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from studio.actions.history import check, record_change
from studio.actions.invitations import digest
from studio.errors import Refused
from studio.models import Person, Pin, Station
from studio.roles import require, require_in_person

WRONG_BEFORE_SLEEP = 5
SLEEP = timedelta(minutes=10)


@transaction.atomic
def set_up_station(*, by: Person, name: str) -> tuple[Station, str]:
    """Make the device that the browser in hand becomes. Returns it and the secret for its cookie."""
    require(by, "station.set_up")
    # The history tells stations apart by their names.
    if Station.objects.filter(name__iexact=name.strip(), closed_at=None).exists():
        raise Refused({"name": _("There is a station of this name. Close it first, or choose another name.")})
    secret = secrets.token_urlsafe(32)
    station = Station(name=name.strip(), digest=digest(secret), made_by=by)
    check(station).save(force_insert=True)
    record_change(by=by, verb="set up", obj=station)
    return station, secret


@transaction.atomic
def close_station(*, by: Person, station: Station) -> Station:
    """The tablet is a stranger from now on."""
    require(by, "station.set_up")
    if station.closed_at is None:
        station.closed_at = timezone.now()
        station.save(update_fields=["closed_at"])
        record_change(by=by, verb="closed", obj=station)
    return station


def station_of(secret: str) -> Station | None:
    """The open station of a cookie's secret."""
    return Station.objects.filter(digest=digest(secret), closed_at=None).first() if secret else None


def _too_easy(pin: str) -> bool:
    steps = {int(b) - int(a) for a, b in pairwise(pin)}
    return len(steps) == 1 and steps <= {0, 1, -1}


@transaction.atomic
def set_pin(*, by: Person, pin: str) -> Pin:
    """One's own PIN for stations: 4 to 8 digits, not all the same and not in a row."""
    require(by, "token.own")
    require_in_person(by)
    if not re.fullmatch(r"[0-9]{4,8}", pin):
        raise Refused({"pin": _("A PIN is 4 to 8 digits.")})
    if _too_easy(pin):
        raise Refused(
            {"pin": _("This PIN is guessed at once. Take digits that are not the same and not in a row.")}
        )
    made, _new = Pin.objects.update_or_create(
        person=by, defaults={"hash": make_password(pin), "wrong": 0, "sleeps_until": None}
    )
    record_change(by=by, verb="set a PIN", obj=by)
    return made


def _asleep(until: datetime) -> Refused:
    minutes = math.ceil((until - timezone.now()).total_seconds() / 60)
    return Refused(
        {
            "pin": ngettext(
                "Too many wrong PINs: this one sleeps. Try again in %(n)s minute, or use your own phone.",
                "Too many wrong PINs: this one sleeps. Try again in %(n)s minutes, or use your own phone.",
                minutes,
            )
            % {"n": minutes}
        }
    )


def step_up(*, station: Station, person: Person, pin: str) -> Person:
    """Check a name and PIN at a station. Refused says when to try again; wrong tries are counted even so."""
    # The count is written in a transaction of its own: the refusal that follows must not undo it.
    with transaction.atomic():
        mine = Pin.objects.select_for_update().filter(person=person).first()
        if mine is None or not person.is_active:
            raise Refused({"pin": _("There is no PIN for this name yet. Set one on your account page.")})
        if mine.sleeps_until and mine.sleeps_until > timezone.now():
            raise _asleep(mine.sleeps_until)
        right = check_password(pin, mine.hash)
        mine.wrong = 0 if right else mine.wrong + 1
        mine.sleeps_until = None
        if mine.wrong >= WRONG_BEFORE_SLEEP:
            mine.wrong, mine.sleeps_until = 0, timezone.now() + SLEEP
        mine.save()
        if right:
            Station.objects.filter(pk=station.pk).update(last_used_at=timezone.now())
    if mine.sleeps_until:
        raise _asleep(mine.sleeps_until)
    if not right:
        raise Refused({"pin": _("That is not the PIN of %(name)s. Try again.") % {"name": person.name}})
    return person
