"""A browser at the glaze table, for the tests of station mode. Its fixtures are in conftest.py."""

from datetime import timedelta

from django.utils import timezone

from studio import stations
from studio.actions.stations import set_pin
from studio.views.stations import step_up_address

PIN = "4071"
FRONT, STEP_UP = "/station/", "/station/step-up/"


def with_pin(person):
    set_pin(by=person, pin=PIN)
    return person


def visit(tablet, person, there=FRONT, pin=PIN):
    return tablet.post(STEP_UP, {"person": person.pk, "pin": pin, "next": there})


def asks_who(response, there):
    return (response.status_code, response["Location"]) == (302, step_up_address(there))


def move_clock(monkeypatch, **step):
    """Let time pass and then stand still."""
    now = timezone.now() + timedelta(**step)
    monkeypatch.setattr(stations.timezone, "now", lambda: now)
